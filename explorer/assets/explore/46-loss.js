/* The truss without the member chosen: forces after its loss, by the column that the server gave for it. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);

  /* Keep what the loss of a member changes; none for one without which the truss is a mechanism. */
  stillbar.keepLoss = function (stage, data) {
    stage.loss = data.loss && {
      member: data.member,
      changes: stillbar.floats(data.loss.changes),
      shifts: stillbar.floats(data.loss.shifts),
    };
  };

  /* Turn rows of the whole truss into those without the lost member, its own weight gone with it; or into what
     the loss adds to each. */
  stillbar.afterLoss = function (stage, values) {
    const lost = stage.lost;
    if (!lost) return;
    const force = values[lost.member],
      weight = stage.load().weight;
    for (let i = 0; i < values.length; i++)
      values[i] = (lost.difference ? 0 : values[i]) + lost.changes[i] * force + lost.shifts[i] * weight;
    values[lost.member] = 0;
  };

  /* How many others the loss changes, said in place of how many are zero; nothing while forces are drawn. */
  stillbar.sayDifference = function (stage, values) {
    const { lost, study, sentences } = stage;
    if (!lost || !lost.difference) return "";
    const band = stage.load().band,
      members = values.slice(0, study.members.length),
      changed = members.filter((value, i) => i !== lost.member && Math.abs(value) > band).length;
    const numbers = sentences.numbers,
      number = changed === 0 ? "no" : changed < numbers.length ? numbers[changed] : String(changed);
    const forces = changed === 1 ? " other force just now." : " other forces just now.";
    return "Losing " + study.members[lost.member] + " changes " + number + forces;
  };

  /* Widths of a difference are by the largest of it: beside whole forces it would hardly be seen. */
  stillbar.largestShown = function (stage, values) {
    const lost = stage.lost;
    if (!lost || !lost.difference) return stage.load().largest;
    const members = values.slice(0, stage.study.members.length);
    return Math.max(...members.map(Math.abs));
  };

  /* The load and the place for which another member is at its worst: under any other it is not. */
  function place(stage) {
    const { under, train, way, position } = stage.state,
      at = stage.train();
    return JSON.stringify([under, train, at && at.way, at && at.position, way, position]);
  }

  stillbar.lookLost = function (stage, shown) {
    if (!stage.lost) return;
    if (stage.lost.worst !== undefined && stage.lost.place !== place(stage)) {
      delete stage.lost.worst;
      tell(stage);
    }
    shown.looks[stage.lost.member] = "gone";
    shown.parts[stage.lost.member] = 0;
    shown.said[stage.lost.member] = "";
    if (stage.lost.worst !== undefined) shown.looks[stage.lost.worst] += " worst";
  };

  function tell(stage) {
    const note = byId("lost-note"),
      lost = stage.lost;
    note.hidden = !lost;
    byId("plate").classList.toggle("difference", Boolean(lost && lost.difference));
    stillbar.showKey();
    if (!lost) return;
    const name = (member) => stage.study.members[member];
    const worst = lost.worst === undefined ? "" : ", " + name(lost.worst) + " (struck across) at its worst";
    document.querySelector('[data-do="difference"]').textContent = lost.difference
      ? "forces after it"
      : "the difference alone";
    byId("lost-name").textContent =
      "Drawn without " +
      name(lost.member) +
      (lost.difference
        ? ": what its loss adds to every force and reaction, loads not drawn"
        : ": forces after its loss") +
      worst +
      ". Everything below tells of the whole truss.";
  }

  stillbar.lose = function () {
    const stage = stillbar.stage;
    if (!stage || !stage.loss || stage.loss.member !== stage.state.member) return;
    stage.lost = { ...stage.loss };
    // Other measures tell of the whole truss.
    stage.state.measure = byId("measure").value = "force now";
    tell(stage);
    stage.paint();
    byId("sentence").scrollIntoView({ block: "start" });
  };

  stillbar.swapDifference = function () {
    const stage = stillbar.stage;
    if (!stage || !stage.lost) return;
    stage.lost.difference = !stage.lost.difference;
    tell(stage);
    stage.paint();
  };

  stillbar.putBack = function () {
    const stage = stillbar.stage;
    if (!stage) return;
    stage.lost = null;
    tell(stage);
    stage.paint();
  };

  /* The place at which another member is worst after the loss: that load and position, without the lost one. */
  stillbar.goToWorst = function (given) {
    const stage = stillbar.stage;
    stillbar.lose();
    if (!stage.lost) return;
    stillbar.jump({ dataset: { under: given.under, train: given.train } });
    if (given.way) stage.ride(Number(given.position), given.way);
    stage.lost.worst = Number(given.worst);
    stage.lost.place = place(stage);
    tell(stage);
    stage.paint();
    stillbar.tell();
  };
})();
