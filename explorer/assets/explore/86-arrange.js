/* Which train of a set is shown, how its loads are arranged, and what it is compared with. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);

  function words(name, label, choices, chosen) {
    const box = byId(name);
    box.hidden = choices.length < 2;
    if (box.hidden) {
      box.textContent = "";
      return;
    }
    const inputs = choices.map(
      ([value, text]) =>
        '<label><input type="radio" name="' +
        name +
        '" value="' +
        value +
        '"' +
        (String(value) === String(chosen) ? " checked" : "") +
        "><span>" +
        stillbar.plainText(text) +
        "</span></label>",
    );
    const group =
      '<span role="radiogroup" class="words" aria-label="' + label + '">' + inputs.join("") + "</span>";
    const held = box.contains(document.activeElement) ? document.activeElement.value : null;
    box.innerHTML = "<span>" + label + "</span>" + group;
    if (held !== null) box.querySelector('input[value="' + held + '"]')?.focus({ preventScroll: true });
  }

  stillbar.plainText = function (text) {
    const node = document.createElement("span");
    node.textContent = text;
    return node.innerHTML;
  };

  stillbar.markTraffic = function () {
    const stage = stillbar.stage,
      state = stage.state,
      load = stage.load(),
      crossing = stage.crossing(),
      member = stage.study.members[state.member];
    const trains = crossing ? crossing.trains.map((train, i) => [i, train.told]) : [];
    words("train-choice", "train", trains, state.train);
    const bare = load.lanes.length || (crossing && stage.trainNow().lane);
    const ways = [
      [0, !crossing ? "the whole chord" : bare ? "as it stands, no lane" : "as it stands"],
      [1, "most tension in " + member],
      [-1, "most compression in " + member],
    ];
    words("arrange-choice", "loads placed for", load.arranges ? ways : [], state.arranged);
    const others = stage.study.unders
      .map((under, i) => [i, under])
      .filter(
        ([i, under]) =>
          i !== state.under &&
          crossing &&
          under.crossing &&
          stage.study.crossings[under.crossing].joints.join() === crossing.joints.join(),
      )
      .map(([i, under]) => [i, under.name.replaceAll("_", " ")]);
    const beside = byId("beside-choice");
    beside.hidden = !others.length;
    beside.innerHTML = others.length
      ? '<label for="beside">beside it</label><select id="beside"><option value="-1">nothing</option>' +
        others
          .map(([i, name]) => '<option value="' + i + '">' + stillbar.plainText(name) + "</option>")
          .join("") +
        "</select>"
      : "";
    if (others.length) byId("beside").value = String(state.beside);
    byId("lane-tools").hidden = !crossing && !load.arranges;
  };

  stillbar.changeTraffic = function (node) {
    const stage = stillbar.stage,
      state = stage.state;
    if (node.name === "train-choice") {
      stillbar.stop();
      state.train = Number(node.value);
      stage.ride(state.position);
      stillbar.tell();
    }
    if (node.name === "arrange-choice") stage.arrange(Number(node.value));
    if (node.id === "beside") {
      state.beside = Number(node.value);
      stillbar.tell();
    }
  };
})();
