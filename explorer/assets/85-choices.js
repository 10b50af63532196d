/* The few controls: load, measure, units, study, ground; and the page's beginning. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const MOST = 8e6,
    KEPT = 4e6;

  /* ---- an own study stays with its tab when the page is loaded again ---- */

  stillbar.keep = function (opening) {
    try {
      if (opening.bundled || !opening.own || opening.text.length > KEPT)
        window.sessionStorage.removeItem("study");
      else window.sessionStorage.setItem("study", JSON.stringify({ text: opening.text, name: opening.name }));
    } catch (error) {
      /* a browser that keeps nothing: then a reload opens the first study again */
    }
    const own = byId("own-option"),
      select = byId("open-bundled");
    own.textContent = opening.bundled ? "" : opening.name;
    own.hidden = Boolean(opening.bundled);
    select.value = opening.bundled || "";
  };

  function kept() {
    try {
      return JSON.parse(window.sessionStorage.getItem("study"));
    } catch (error) {
      return null;
    }
  }

  function openText(file) {
    if (!file) return;
    if (file.size > MOST) {
      stillbar.refuse(file.name, "larger than 8 MB", "split the study");
      return;
    }
    file.text().then((text) => stillbar.setWish({ text: text, name: file.name, own: true, fresh: true }));
  }

  stillbar.refuse = function (name, wrong, right) {
    window.dash_clientside.stillbar_page.showOpening({
      ended: true,
      key: null,
      name: name,
      lines: [["", wrong, right]],
    });
  };

  /* ---- ground: paper or slate ---- */

  function ground() {
    const given = document.documentElement.dataset.ground;
    return given || (window.matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "paper");
  }
  stillbar.swapGround = function () {
    const next = ground() === "paper" ? "slate" : "paper";
    document.documentElement.dataset.ground = next;
    try {
      window.localStorage.setItem("ground", next);
    } catch (error) {
      /* then it lasts as long as the page */
    }
    byId("ground").textContent = ground() === "paper" ? "dark" : "light";
  };

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
    byId("lane-tools").hidden = !stage.crossing();
    byId("lane-caption").textContent =
      "force in " +
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
      '" style="--f:0.5" transform="translate(1,6)"><line class="wall" x2="32"/><line class="core" x1="1.25" x2="30.75"/><line class="dash" x2="32"/></g></svg>';
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
      "mechanism without it": [
        ["ink", "moves without it"],
        ["plain", "no mechanism"],
      ],
    };
    const measure = stillbar.stage.state.measure,
      kept = lines[measure] || [
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
      kept.map(([look, words]) => bar(look) + "<span>" + words + "</span>").join("") +
      (told ? '<span class="wide">' + told + "</span>" : "");
  };

  function changed(event) {
    const stage = stillbar.stage,
      node = event.target;
    if (node.id === "open-bundled" && node.value) stillbar.setWish({ bundled: node.value, fresh: true });
    if (node.id === "open-file") {
      openText(node.files[0]);
      node.value = "";
    }
    if (!stage) return;
    if (node.name === "load" || node.id === "load") {
      stillbar.stop();
      stage.take(Number(node.value));
    }
    if (node.id === "measure") {
      stage.state.measure = node.value;
      stage.paint();
      stillbar.showKey();
      stillbar.tell();
    }
  }

  function swapUnits() {
    const stage = stillbar.stage;
    if (!stage) return;
    stage.state.units = stage.units() === "metric" ? "US" : "metric";
    stage.paint();
    stillbar.showKey();
    stillbar.tell();
  }

  function begin() {
    if (!byId("plate") || !window.dash_clientside.set_props) {
      setTimeout(begin, 15);
      return;
    }
    const input = document.createElement("input");
    Object.assign(input, { type: "file", id: "open-file", accept: ".toml" });
    byId("file-place").append(input);
    stillbar.attach();
    byId("ground").textContent = ground() === "paper" ? "dark" : "light";
    document.addEventListener("change", changed);
    document.addEventListener("click", (event) => {
      if (event.target.closest("#units-swap")) swapUnits();
      const tick = event.target.closest("[data-load]");
      if (tick && stillbar.stage) stillbar.stage.take(Number(tick.dataset.load));
    });
    document.addEventListener("dragover", (event) => event.preventDefault());
    document.addEventListener("drop", (event) => {
      event.preventDefault();
      openText(event.dataTransfer.files[0]);
    });
    const wish = stillbar.firstWish(),
      own = kept();
    if (wish.study) stillbar.setWish(Object.assign({ bundled: wish.study }, wish));
    else if (own) stillbar.setWish(Object.assign({ text: own.text, name: own.name, own: true }, wish));
    else stillbar.setWish(Object.assign({ start: true }, wish));
  }

  try {
    const kept = window.localStorage.getItem("ground");
    if (kept) document.documentElement.dataset.ground = kept;
  } catch (error) {
    /* the system's choice holds */
  }
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
