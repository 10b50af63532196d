/* The walk: step by step forward and back, by mouse and keys; and the joint names that lead to any step. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const stage = () => stillbar.stage;

  const KEYS = {
    cut: "On the drawing the joints of this part are filled and the members cut are struck across.",
    "virtual work": "On the drawing the joints that move are filled.",
  };

  function disable(command, off) {
    document.querySelector('#way-walk [data-do="' + command + '"]').disabled = off;
  }

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
    byId("picture-key").textContent = step.part.length ? KEYS[step.kind] || "" : "";
    byId("step-says").innerHTML = step.says;
    byId("step-beside").innerHTML = step.beside;
    board.pointed = -1;
    const next = byId("next");
    next.hidden = board.state.step >= last;
    if (!next.hidden) next.textContent = "Next: " + steps[board.state.step + 1].label;
    for (const command of ["back", "first"]) disable(command, board.state.step === 0);
    disable("last", board.state.step >= last);
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
    forgetPointed();
    if (step >= 0) stillbar.goTo(step);
    else tellPointed(member);
  };

  function forgetPointed() {
    stage().pointed = -1;
    const note = byId("pointed");
    if (note) note.remove();
  }

  /* What no step shows is told where the steps speak, until the next step or another member. */
  function tellPointed(member) {
    const board = stage(),
      name = board.study.members[member],
      note = document.createElement("p");
    const told = board.lesson.zeros.includes(member)
      ? name + " is zero here too; its reason stands under \u201cother loads\u201d."
      : name + " is not zero here: it bears " + board.lesson.said[member] + "\u00a0" + board.force()[0] + ".";
    Object.assign(note, { id: "pointed", textContent: told });
    byId("step-says").prepend(note);
    board.pointed = member;
    stillbar.speak(told);
  }

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
