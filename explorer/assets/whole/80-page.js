/* Between the server and the board: what arrives is shown, what is chosen is told and kept in the address. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const none = () => window.dash_clientside.no_update;
  const board = () => stillbar.stage;
  const TO_STATES =
    "Lines and letters show what each member is; each state of self-stress is drawn by itself.";

  /* ---- the address ---- */

  function wanted() {
    const query = new URLSearchParams(window.location.search);
    return {
      study: query.get("study"),
      units: query.get("units"),
      member: query.get("member"),
      drawn: query.get("state"),
    };
  }

  stillbar.keepAddress(function (query) {
    const { state, study } = board();
    stillbar.keepStudy(query);
    query.set("member", study.members[state.member]);
    if (state.drawn >= 0) query.set("state", state.drawn + 1);
    stillbar.keepUnits(query);
  });

  /* ---- telling the server ---- */

  function tellSetting() {
    stillbar.put("setting", { key: board().study.key, opened: board().opened, units: board().units() });
    stillbar.tellAddress();
  }
  stillbar.tellView = (seen) =>
    window.dash_clientside.set_props("view", { data: { azimuth: seen.azimuth, elevation: seen.elevation } });

  /* ---- the member chosen, or the one pointed at ---- */

  stillbar.tellMember = function (pointed) {
    const { state, study, told } = board(),
      member = pointed >= 0 ? pointed : state.member;
    if (!told) return;
    byId("chosen-name").textContent = study.members[member];
    byId("chosen-kind").textContent =
      study.letters[member] + " " + told[member].kind + "; group " + told[member].group;
    byId("verdict").textContent = told[member].verdict;
    byId("partners").textContent = told[member].partners;
  };

  stillbar.markRow = function () {
    const was = document.querySelector("#list tr.chosen"),
      now = document.querySelector('#list tr[data-row="' + board().state.member + '"]');
    for (const row of [was, now]) {
      if (!row) continue;
      row.classList.toggle("chosen", row === now);
      row.querySelector("button").setAttribute("aria-pressed", String(row === now));
    }
  };

  let waiting = 0;
  stillbar.speakMember = function () {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      const { state, study, told } = board();
      if (!told) return;
      const one = told[state.member];
      byId("spoken").textContent = study.members[state.member] + ": " + one.kind + ". " + one.verdict;
    }, 400);
  };

  /* ---- states of self-stress ---- */

  function listStates() {
    const select = byId("drawn"),
      count = board().study.states;
    byId("chooser").hidden = byId("state-told").hidden = !count;
    select.textContent = "";
    select.add(new Option("what each member is", "-1"));
    for (let i = 0; i < count; i++) select.add(new Option("state " + (i + 1) + " of " + count, String(i)));
  }

  function draw(wish) {
    const last = board().study.states - 1,
      state = Math.min(last, Math.max(-1, wish));
    if (Number.isNaN(state)) return;
    board().state.drawn = state;
    byId("drawn").value = String(state);
    document.querySelector('[data-do="state-before"]').disabled = state < 0;
    document.querySelector('[data-do="state-next"]').disabled = state === last;
    if (state < 0) drawKinds();
    else stillbar.put("state-asked", { key: board().study.key, state: state, opened: Date.now() });
    stillbar.tellAddress();
  }

  function drawKinds() {
    board().stress = null;
    board().show();
    byId("legend").innerHTML = board().study.legend.kinds;
    byId("state-told").textContent = TO_STATES;
  }

  /* ---- what arrives ---- */

  function showWhole(data) {
    if (!data) return none();
    const wish = stillbar.wish || {};
    stillbar.wish = null;
    stillbar.stage = new stillbar.WholeBoard(data);
    /* Opened once more, the same study must be told anew: what was told went with the board before. */
    board().opened = Date.now();
    document.documentElement.dataset.dimension = data.dimension;
    document.title = data.title + " · Whole truss · Stillbar";
    byId("paper-title").textContent = data.title + " · an aid, not a check";
    byId("counts").textContent = data.counts;
    byId("where").textContent = data.title + ".";
    byId("sharing").textContent = data.sharing;
    byId("shares").innerHTML = data.shares;
    const member = data.members.indexOf(wish.member);
    if (member >= 0) board().state.member = member;
    if (wish.units && data.systems[wish.units]) board().state.units = wish.units;
    listStates();
    showUnits();
    draw(Number(wish.drawn || 0) - 1);
    if (board().state.drawn >= 0) byId("legend").innerHTML = data.legend.kinds;
    board().paint();
    tellSetting();
    return none();
  }

  function showUnits() {
    const unit = board().study.systems[board().units()];
    byId("units-swap").textContent = unit.force[0] + ", " + unit.length[0];
  }

  function showLettered(data) {
    if (!data || !board()) return none();
    const view = board().drawing.view;
    board().plates = data;
    board().show();
    board().drawing.view = view;
    board().drawing.place();
    return none();
  }

  function showTold(data) {
    if (!data || !board() || data.key !== board().study.key) return none();
    board().told = data.told;
    byId("list").innerHTML = data.list;
    stillbar.tellMember(-1);
    stillbar.markRow();
    document.documentElement.dataset.ready = data.key;
    return none();
  }

  /* Of an answer that comes late another one is wanted by now. */
  function showState(data) {
    if (!data || !board() || data.key !== board().study.key || data.state !== board().state.drawn)
      return none();
    const lettered = Boolean(board().stress);
    board().stress = data;
    if (lettered) board().paint();
    else board().show();
    byId("legend").innerHTML = board().study.legend.state;
    byId("state-told").textContent = data.caption;
    return none();
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_whole: {
      showWhole: showWhole,
      showLettered: showLettered,
      showTold: showTold,
      showState: showState,
    },
  });

  /* ---- the hands on the page ---- */

  function chooseFromList(member) {
    board().choose(member);
    byId("stage").scrollIntoView({ block: "nearest" });
  }

  stillbar.page = {
    wanted: wanted,
    changed: function (event) {
      if (board() && event.target.id === "drawn") draw(Number(event.target.value));
    },
    clicked: function (event) {
      if (!board()) return;
      const command = event.target.closest("[data-do]"),
        row = event.target.closest("#list [data-choose]");
      if (row) chooseFromList(Number(row.dataset.choose));
      if (command && command.dataset.do === "state-next") draw(board().state.drawn + 1);
      if (command && command.dataset.do === "state-before") draw(board().state.drawn - 1);
      if (event.target.closest("#units-swap")) {
        board().state.units = board().units() === "metric" ? "US" : "metric";
        showUnits();
        tellSetting();
      }
    },
    begun: function () {},
  };
})();
