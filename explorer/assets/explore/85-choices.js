/* The few controls: load, measure, units. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);

  /* ---- choices ---- */

  stillbar.markChoice = function () {
    const stage = stillbar.stage,
      under = String(stage.state.under);
    for (const radio of document.querySelectorAll("#under input")) radio.checked = radio.value === under;
    const select = byId("load");
    if (select) select.value = under;
    if (byId("measure")) byId("measure").value = stage.state.measure;
    const unit = stage.study.systems[stage.units()],
      other = stage.units() === "metric" ? "US" : "metric";
    byId("units-swap").textContent = unit.force[0] + ", " + unit.length[0];
    byId("units-swap").setAttribute(
      "aria-label",
      byId("units-swap").textContent + ": show " + other + " units",
    );
    stillbar.markTraffic();
    byId("lane-travel").hidden = !stage.crossing();
    byId("lane-caption").textContent = !stage.crossing()
      ? ""
      : "force in " +
        stage.study.members[stage.state.member] +
        " against the position of the " +
        stage.sentences.unders[stage.state.under].train +
        "'s front, " +
        unit.force[0];
  };

  stillbar.showKey = function () {
    const bar = (look) =>
      '<svg width="34" height="12" class="truss" aria-hidden="true"><g class="bar ' +
      look +
      '" style="--f:0.5" transform="translate(1,6)"><line class="wall" x2="32"/><line class="core" x1="1.25" x2="30.75"/><line class="dash" x2="32"/><line class="stroke" x1="1" x2="1" y1="-6" y2="6"/></g></svg>';
    const moves = Object.keys(stillbar.stage.study.crossings).length > 0;
    const lines = {
      "force now": [
        ["t", "<b>T</b> tension"],
        ["c", "<b>C</b> compression"],
        ["z", "<b>0</b> zero now"],
      ],
      "zero share": [
        ["share", "zero share of all"],
        ["plain", "never zero"],
      ],
      "redundancy share": [
        ["ink", "above 0"],
        ["plain", "0: needed"],
      ],
      "outcome if gone": [
        ["ink", "a mechanism"],
        ["share", "overload; thin: strength unproven"],
        ["plain", "the others carry"],
      ],
      utilisation: [
        [
          "ink",
          "utilisation: the hardest check over all combinations" +
            (moves ? ", wherever the train stands" : ""),
        ],
        ["over", "more than a limit, doubled"],
        ["unknown", "strength not known"],
      ],
    };
    if (stillbar.stage.study.strokes.some((shares) => shares.length))
      lines.utilisation.push([
        "ink holds",
        "nothing but own weight reaches it, yet it holds the joint at its stroke",
      ]);
    const stage = stillbar.stage,
      measure = stage.state.measure;
    if (stage.lost && stage.lost.difference)
      lines["force now"] = [
        ["t", "<b>T</b> towards tension"],
        ["c", "<b>C</b> towards compression"],
        ["z", "<b>0</b> unchanged"],
      ];
    const kept = lines[measure] || [
      ["t", "<b>T</b> tension"],
      ["c", "<b>C</b> compression"],
      ["z", "<b>0</b> none"],
    ];
    const forces = measure === "force now" || !lines[measure];
    const told = forces
      ? "width by force; " +
        stillbar.stage.study.systems[stillbar.stage.units()].force[0] +
        "; tension positive"
      : "";
    byId("key").innerHTML =
      kept
        .map(([look, words]) => '<span class="entry">' + bar(look) + "<span>" + words + "</span></span>")
        .join("") + (told ? '<span class="wide">' + told + "</span>" : "");
  };

  stillbar.page.changed = function (event) {
    const stage = stillbar.stage,
      node = event.target;
    if (!stage) return;
    if (node.name === "load" || node.id === "load") {
      stillbar.stop();
      stage.take(Number(node.value));
    }
    stillbar.changeTraffic(node);
    if (node.id === "train-pick") stillbar.askTrain();
    if (node.id === "measure") {
      stage.state.measure = node.value;
      // Every other measure tells of the whole truss.
      if (stage.lost && node.value !== "force now") stillbar.putBack();
      stage.paint();
      stillbar.showKey();
      stillbar.tell();
    }
  };

  stillbar.page.clicked = function (event) {
    if (event.target.closest("#units-swap")) swapUnits();
    const peak = event.target.closest("[data-peak]");
    if (peak && stillbar.stage) stillbar.jump(peak);
    const worst = event.target.closest("[data-worst]");
    if (worst && stillbar.stage) stillbar.goToWorst(worst.dataset);
    const tick = event.target.closest("[data-load]");
    if (tick && stillbar.stage) stillbar.stage.take(Number(tick.dataset.load));
  };

  stillbar.page.begun = () => stillbar.attachTrack();

  function swapUnits() {
    const stage = stillbar.stage;
    if (!stage) return;
    stage.state.units = stage.units() === "metric" ? "US" : "metric";
    stage.paint();
    stillbar.showKey();
    stillbar.tell();
  }
})();
