/* Predict first: mark what you believe, then check; and the second round, which asks what moves. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const stage = () => stillbar.stage;
  const FIRST_KEY =
      "On the drawing: 0\u00a0found, 0!\u00a0missed; a member marked that works shows its force.",
    SECOND_KEY =
      "On the drawing M stands for a mechanism without the member: M\u00a0found, M!\u00a0missed, " +
      "no\u00a0M\u00a0marked though there is none.";

  stillbar.mark = function (member) {
    const board = stage(),
      round = board.round();
    if (round.marked.has(member)) round.marked.delete(member);
    else round.marked.add(member);
    round.judged = round.asked = null;
    showMarks();
    showJudged("");
    board.paint();
    const said = round.marked.has(member) ? " marked" : " not marked";
    stillbar.speak(board.study.members[member] + said);
  };

  stillbar.clearMarks = function () {
    const round = stage().round();
    round.marked.clear();
    round.judged = round.asked = null;
    stillbar.showPredict();
  };

  stillbar.secondRound = function () {
    stage().state.second = !stage().state.second;
    stillbar.showPredict();
  };

  stillbar.check = function () {
    const board = stage(),
      round = board.round();
    round.asked = Date.now();
    stillbar.put("marks", {
      asked: round.asked,
      key: board.study.key,
      marked: [...round.marked],
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
      Object.assign(box, { type: "checkbox", checked: board.round().marked.has(member) });
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
    showMarks();
    showJudged("Nothing yet: mark what you believe, then check.");
    board.paint();
  };

  /* The verdict of the round shown, and the key to its signs on the drawing; else what stands for it. */
  function showJudged(otherwise) {
    const board = stage(),
      judged = board.round().judged;
    byId("marks-key").textContent = judged ? (judged.second ? SECOND_KEY : FIRST_KEY) : "";
    if (!judged) {
      byId("judged").textContent = otherwise;
      return;
    }
    byId("judged").innerHTML = judged.markup;
    if (!board.task || judged.second) return;
    const line = document.createElement("p");
    line.className = "paste";
    line.textContent = stillbar.pasteLine(board.task, judged);
    byId("judged").append(line);
  }

  /* A verdict belongs to the marks it was asked for: where they or the load have changed since, it is late. */
  stillbar.showVerdict = function (judged) {
    const board = stage(),
      round = board.rounds.find((one) => one.asked === judged.asked);
    if (!round) return;
    round.judged = judged;
    if (round !== board.round() || board.state.way !== "predict") return;
    showJudged("");
    board.paint();
    stillbar.speak(judged.summary);
  };

  document.addEventListener("change", (event) => {
    if (event.target.dataset && event.target.dataset.mark !== undefined)
      stillbar.mark(Number(event.target.dataset.mark));
  });
})();
