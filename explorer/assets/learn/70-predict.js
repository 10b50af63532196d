/* Predict first: mark what you believe, then check; and the second round, which asks what moves. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const stage = () => stillbar.stage;

  stillbar.mark = function (member) {
    const board = stage();
    if (board.marked.has(member)) board.marked.delete(member);
    else board.marked.add(member);
    board.judged = null;
    byId("judged").textContent = "";
    showMarks();
    board.paint();
    const said = board.marked.has(member) ? " marked" : " not marked";
    stillbar.speak(board.study.members[member] + said);
  };

  stillbar.clearMarks = function () {
    const board = stage();
    board.marked.clear();
    board.judged = null;
    byId("judged").textContent = "";
    stillbar.showPredict();
  };

  stillbar.secondRound = function () {
    stage().state.second = !stage().state.second;
    stillbar.clearMarks();
  };

  stillbar.check = function () {
    const board = stage();
    stillbar.put("marks", {
      asked: Date.now(),
      key: board.study.key,
      marked: [...board.marked],
      second: board.state.second,
    });
  };

  function showMarks() {
    const board = stage(),
      list = document.createElement("ul");
    list.className = "mark-list";
    for (const member of board.study.order) {
      const item = document.createElement("li"),
        label = document.createElement("label"),
        box = document.createElement("input");
      Object.assign(box, { type: "checkbox", checked: board.marked.has(member) });
      box.dataset.mark = member;
      label.append(box, board.study.members[member]);
      item.append(label);
      list.append(item);
    }
    const focused = document.activeElement && document.activeElement.dataset.mark;
    byId("mark-list").replaceChildren(list);
    const again = focused !== undefined && list.querySelector('[data-mark="' + focused + '"]');
    if (again) again.focus();
  }

  stillbar.showPredict = function () {
    const board = stage(),
      second = board.state.second;
    byId("question").textContent = second
      ? "Without which of these members is the truss a mechanism?"
      : "Which members carry nothing under this load?";
    byId("where").textContent = (second ? "Second round. " : "") + stillbar.underTold();
    byId("marks-title").textContent = second ? "Without these it would move" : "Believed to be zero";
    byId("marks-how").textContent = "Mark members on the drawing (space, with the keys) or here.";
    document.querySelector('[data-do="second-round"]').textContent = second ? "first round" : "second round";
    if (!board.judged) byId("judged").textContent = "Nothing yet: mark what you believe, then check.";
    showMarks();
    board.paint();
  };

  stillbar.showVerdict = function (judged) {
    const board = stage();
    board.judged = judged;
    byId("judged").innerHTML = judged.markup;
    if (board.task && !judged.second) {
      const line = document.createElement("p");
      line.className = "paste";
      line.textContent = stillbar.pasteLine(board.task, judged);
      byId("judged").append(line);
    }
    board.paint();
    stillbar.speak(judged.summary);
  };

  document.addEventListener("change", (event) => {
    if (event.target.dataset && event.target.dataset.mark !== undefined)
      stillbar.mark(Number(event.target.dataset.mark));
  });
})();
