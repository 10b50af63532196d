/* The list of trains: one is drawn to scale, and let across a chord of the study. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const LONGEST = 40,
    TRIAL = "# let across in the explorer";
  let shown = "";

  stillbar.listTrains = function (markup) {
    const before = shown;
    byId("train-choices").innerHTML = markup;
    byId("trains").hidden = !byId("train-chord").options.length;
    const names = [...byId("train-pick").options].map((option) => option.value);
    if (names.includes(before)) byId("train-pick").value = before;
    shown = byId("train-pick").value;
  };

  stillbar.askTrain = function () {
    const stage = stillbar.stage;
    shown = byId("train-pick").value;
    stillbar.put("train-asked", { key: stage.study.key, name: shown, units: stage.units() });
  };

  /* What is typed into a field, or null, told beside it, where it is no number from 0 up. */
  function given(id) {
    const field = byId(id),
      typed = field.value.trim(),
      value = Number(typed);
    const right = typed !== "" && Number.isFinite(value) && value >= 0;
    field.setAttribute("aria-invalid", String(!right));
    return right ? value : null;
  }

  /* A crossing more at the end of the study's text, in place of an earlier trial of the same train on the
     same chord; the study as it was stays a click away. */
  stillbar.letCross = function () {
    const stage = stillbar.stage,
      train = byId("train-pick").value,
      chord = byId("train-chord").value;
    const numbers = ["train-share", "train-impact", "train-lane-impact"].map(given);
    const wrong = numbers.includes(null);
    byId("train-fault").textContent = wrong
      ? "Each of the three is a number from 0 up; 0.33 is an impact of 33 %."
      : "";
    if (wrong) return;
    const base = (train + " across " + chord).slice(0, LONGEST - 3);
    const trial = TRIAL + "\n[crossings." + JSON.stringify(base) + "]\n";
    const [before, after] = stillbar.opened.text.split("\n" + trial);
    const text = after === undefined ? before : before + "\n" + after.replace(/^(?:.+\n)*/, "");
    const taken = after === undefined ? Object.keys(stage.study.crossings) : [];
    let name = base;
    for (let i = 2; taken.includes(name); i++) name = base + " " + i;
    const lines = [
      TRIAL,
      "[crossings." + JSON.stringify(name) + "]",
      "train = " + JSON.stringify(train),
      "chord = " + JSON.stringify(chord),
      "factor = " + numbers[0],
      "impact = " + numbers[1],
      "lane_impact = " + numbers[2],
    ];
    stillbar.setWish({
      text: text.replace(/\n*$/, "\n\n") + lines.join("\n") + "\n",
      name: stillbar.opened.name,
      own: true,
      fresh: true,
      under: name,
      member: stage.study.members[stage.state.member],
      units: stage.units(),
    });
  };
})();
