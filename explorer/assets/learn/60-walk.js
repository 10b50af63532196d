/* The walk: step by step forward and back, by mouse and keys; and the joint names that lead to any step. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const stage = () => stillbar.stage;

  function listSteps() {
    const list = byId("walk-steps"),
      steps = stage().lesson.steps;
    list.textContent = "";
    steps.forEach((step, number) => {
      const item = document.createElement("li"),
        button = document.createElement("button");
      button.type = "button";
      button.textContent = step.label;
      button.dataset.step = number;
      item.append(button);
      list.append(item);
    });
  }

  stillbar.showStep = function () {
    const board = stage(),
      steps = board.lesson.steps,
      step = board.step(),
      last = steps.length - 1;
    byId("question").textContent = step.question;
    byId("where").textContent = step.where + (step.where ? ". " : "") + stillbar.underTold();
    byId("picture-title").textContent = step.picture_title;
    byId("step-picture").innerHTML = step.picture;
    byId("step-says").innerHTML = step.says;
    byId("step-beside").innerHTML = step.beside;
    const next = byId("next");
    next.hidden = board.state.step >= last;
    if (!next.hidden) next.textContent = "Next: " + steps[board.state.step + 1].label;
    document.querySelector('[data-do="back"]').disabled = board.state.step === 0;
    for (const button of byId("walk-steps").querySelectorAll("button")) {
      const number = Number(button.dataset.step);
      button.classList.toggle("done", number < board.state.step);
      if (number === board.state.step) button.setAttribute("aria-current", "step");
      else button.removeAttribute("aria-current");
    }
    const now = byId("walk-steps").querySelector("[aria-current]"),
      list = byId("walk-steps");
    if (now) list.scrollLeft = now.offsetLeft - list.clientWidth / 2;
    stillbar.speak(step.question + " " + byId("step-says").textContent);
    board.paint();
  };

  stillbar.showWalk = function () {
    listSteps();
    stage().state.step = Math.min(stage().state.step, stage().lesson.steps.length - 1);
    stillbar.showStep();
  };

  stillbar.goTo = function (step) {
    const board = stage();
    if (!board || !board.lesson || board.state.way !== "walk" || Number.isNaN(step)) return;
    const wanted = Math.min(board.lesson.steps.length - 1, Math.max(0, step));
    if (wanted === board.state.step) return;
    board.state.step = wanted;
    stillbar.showStep();
    stillbar.tellAddress();
  };

  /* A member chosen on the drawing leads to the step that shows it. */
  stillbar.pointAt = function (member) {
    const board = stage();
    if (board.state.way !== "walk") return;
    const step = board.lesson.steps.findIndex((s) => s.members.includes(member));
    if (step >= 0) stillbar.goTo(step);
    else stillbar.speak(board.study.members[member] + " is not zero here");
  };

  stillbar.walkKey = function (event) {
    if (
      event.target.closest("input, select, textarea, #plate") ||
      event.ctrlKey ||
      event.metaKey ||
      event.altKey
    )
      return;
    const board = stage();
    if (!board || !board.lesson || board.state.way !== "walk") return;
    const to = {
      ArrowRight: board.state.step + 1,
      ArrowLeft: board.state.step - 1,
      PageDown: board.state.step + 1,
      PageUp: board.state.step - 1,
      Home: 0,
      End: board.lesson.steps.length - 1,
    }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    stillbar.goTo(to);
  };
})();
