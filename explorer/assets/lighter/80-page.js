/* Between the server and the board: lighter sections looked for and tried, shown, and kept in the address. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const all = (selector) => [...document.querySelectorAll(selector)];
  const none = () => window.dash_clientside.no_update;
  const set = (id, props) => window.dash_clientside.set_props(id, props);
  const board = () => stillbar.stage;
  const SPACE = "\u00a0";

  /* ---- the address ---- */

  function wanted() {
    const query = new URLSearchParams(window.location.search);
    return {
      study: query.get("study"),
      units: query.get("units"),
      member: query.get("member"),
      tried: query.get("try"),
    };
  }

  stillbar.keepAddress(function (query) {
    const tried = board().trying.write();
    keepMember(query, board().study.members[board().state.member]);
    if (tried) query.set("try", tried);
  });

  function keepMember(query, name) {
    stillbar.keepStudy(query);
    query.set("member", name);
    stillbar.keepUnits(query);
  }

  function toExplore(member) {
    const query = new URLSearchParams();
    keepMember(query, member);
    return "/?" + query.toString();
  }

  /* ---- asking the server ---- */

  let asked = 0,
    lastAsked = "";
  stillbar.askTrial = function () {
    const { study, state, trying, opened } = board();
    const wish = {
      key: study.key,
      opened: opened,
      units: board().units(),
      sections: trying.sections,
      member: state.member,
    };
    const text = JSON.stringify(wish);
    if (text === lastAsked) return;
    lastAsked = text;
    asked += 1;
    set("try-asked", { data: Object.assign({ asked: asked }, wish) });
  };
  stillbar.tellView = (seen) => set("view", { data: { azimuth: seen.azimuth, elevation: seen.elevation } });

  function askTold() {
    const { study, opened, found } = board();
    stillbar.put("told-asked", {
      key: study.key,
      opened: opened,
      units: board().units(),
      found: Boolean(found),
    });
  }

  function askSizes() {
    set("size-asked", { data: { key: board().study.key, opened: Date.now() } });
  }

  /* Work that is under way is asked after until all of it has ended. */
  const working = { sizing: false, trial: false };
  function keepAsking(what, ended) {
    working[what] = !ended;
    set("lighter-poll", { disabled: !working.sizing && !working.trial });
  }

  /* ---- what arrives: the truss ---- */

  function showTruss(data) {
    if (!data) return none();
    const wish = stillbar.wish || {};
    stillbar.wish = null;
    stillbar.stage = new stillbar.LighterBoard(data);
    /* Opened once more, the same study must be told anew: what was told went with the board before. */
    board().opened = Date.now();
    board().trying = new stillbar.Trying(data.groups);
    board().found = false;
    document.documentElement.dataset.dimension = data.dimension;
    document.title = data.title + " · Lighter · Stillbar";
    byId("paper-title").textContent =
      data.title + " · Lighter · " + new Date().toISOString().slice(0, 10) + " · an aid, not a check";
    byId("not-among").textContent = data.notAmong;
    byId("where").textContent = data.title + ".";
    byId("legend").innerHTML = data.legend;
    for (const id of ["saving", "found", "proven", "unchecked", "outcome", "failing", "tried-table", "list"])
      byId(id).textContent = "";
    byId("drawn").value = board().state.drawn;
    takeWish(wish);
    showUnits();
    board().paint();
    board().reveal();
    stillbar.tellMember();
    tellDrawn();
    showFamilies();
    askTold();
    stillbar.askTrial();
    stillbar.tellAddress();
    return none();
  }

  function takeWish(wish) {
    const { study, state, trying } = board(),
      member = study.members.indexOf(wish.member),
      leftOut = trying.read(wish.tried || stillbar.keptTrial(study.key));
    if (wish.tried) stillbar.keepTrial(study.key, trying.write());
    if (member >= 0) state.member = member;
    if (wish.units && study.systems[wish.units]) state.units = wish.units;
    byId("left-out").hidden = !leftOut.length;
    byId("left-out").textContent = leftOut.length
      ? "Left out of what the address asks: " + leftOut.join("; ") + "."
      : "";
  }

  function showFamilies() {
    const { study } = board(),
      any = study.groups.length > 0,
      place = byId("no-family");
    for (const id of ["trying", "candidates"]) byId(id).hidden = !any;
    document.querySelector(".drawn").hidden = !any;
    place.hidden = any;
    place.textContent = "";
    byId("sizing-note").textContent = "";
    if (any) {
      board().title = "What could be lighter";
      stillbar.tellTitle();
      askSizes();
      return;
    }
    const how = document.createElement("p"),
      text = document.createElement("pre");
    byId("saving").textContent = study.none.said;
    how.textContent =
      "Write a family into the study's file, and its name in every group that may be made of it:";
    text.textContent = study.none.write;
    text.tabIndex = 0;
    place.append(how, text);
    document.documentElement.dataset.ready = study.key;
  }

  function showUnits() {
    const unit = board().study.systems[board().units()];
    byId("units-swap").textContent = unit.force[0] + ", " + unit.length[0];
  }

  function showLettered(plate) {
    if (!plate || !board()) return none();
    board().show(plate);
    return none();
  }

  /* ---- how far the search is, and what it found ---- */

  function showSizing(sizing) {
    if (!sizing || !board() || sizing.key !== board().study.key) return none();
    const note = byId("sizing-note"),
      held = note.contains(document.activeElement);
    keepAsking("sizing", sizing.ended);
    if (!sizing.ended) {
      const told = "Looking for lighter sections: " + Math.round(100 * sizing.share) + SPACE + "% ";
      /* The button stays the same one: a press begun on it must end on it. */
      if (note.querySelector("[data-do=call-off]")) note.firstChild.data = told;
      else note.replaceChildren(told, command("cancel", "call-off"));
      return none();
    }
    note.textContent = "";
    if (sizing.done) {
      board().found = true;
      askTold();
    } else {
      const why = sizing.lines.map((line) => line.filter(Boolean).join(": ")).join("; ");
      note.append(
        "Lighter sections were not looked for to the end: " + why + ". ",
        command("look again", "look"),
      );
      document.documentElement.dataset.ready = board().study.key;
    }
    /* What is written anew takes the focus with it, unless it is handed on. */
    if (held) (note.querySelector("button") || byId("plate")).focus({ preventScroll: true });
    return none();
  }

  function command(text, does) {
    const button = document.createElement("button");
    Object.assign(button, { type: "button", textContent: text });
    button.dataset.do = does;
    return button;
  }

  function showTold(data) {
    const of = board();
    if (!data || !of || data.key !== of.study.key || data.opened !== of.opened) return none();
    if (data.table && data.units !== of.tabled) {
      of.tabled = data.units;
      byId("tried-table").innerHTML = data.table;
      markSections();
      fillCells();
    }
    if (data.found) {
      of.lightest = data.found.lightest;
      of.title = data.found.title;
      stillbar.tellTitle();
      byId("proven").textContent = data.found.proven;
      byId("unchecked").textContent = data.found.unchecked;
      showList(data.found.list);
      document.documentElement.dataset.ready = data.key;
    }
    markCommands();
    return none();
  }

  /* The list anew, as in other units: what was unfolded stays so. */
  function showList(markup) {
    const open = new Set(all("#list details[open]").map((details) => details.dataset.group));
    byId("list").innerHTML = markup;
    for (const details of all("#list details")) details.open = open.has(details.dataset.group);
    for (const link of all("#list .to-explore")) link.href = toExplore(link.dataset.member);
  }

  /* ---- what became of a trial ---- */

  function showTrial(data) {
    /* Of an answer that comes late another one is wanted by now. */
    if (!data || !board() || data.key !== board().study.key || data.asked !== asked) return none();
    keepAsking("trial", data.ended);
    byId("trying").setAttribute("aria-busy", String(!data.ended));
    if (!data.ended) {
      tellOutcome("Working it out: " + data.what + " …");
      return none();
    }
    if (data.checks !== undefined) byId("chosen-checks").innerHTML = data.checks;
    if (!data.done) tellOutcome(data.lines.map((line) => line.join(" ")).join("; "));
    if (!data.painted) return none();
    board().painted.tried = data.painted;
    board().cells = data.cells;
    tellOutcome(data.outcome);
    byId("failing").innerHTML = data.failing;
    fillCells();
    board().paint();
    stillbar.tellMember();
    tellDrawn();
    document.documentElement.dataset.tried = board().trying.write();
    return none();
  }

  function tellOutcome(text) {
    board().outcome = byId("outcome").textContent = text;
    stillbar.tellTitle();
  }

  function fillCells() {
    for (const [name, cell] of Object.entries(board().cells || {})) {
      const place = document.querySelector('[data-cell="' + name + '"]');
      if (place) place.innerHTML = cell;
    }
  }

  const MET = { over: "not met", unknown: "not known" };
  const metBy = (paint, member) => MET[paint.looks[member].split(" ")[0]] || "met";
  function tellMet([now, tried]) {
    if (now !== tried) return "; " + now + " now, " + tried + " as tried";
    return now === "met" ? "" : ", " + now;
  }

  stillbar.tellMember = function () {
    const { state, study, painted } = board(),
      told = (tell) => [painted.now, painted.tried].map((paint) => tell(paint, state.member)),
      both = ([now, tried]) => (tried === now ? now : now + ", as tried " + tried),
      name = study.members[state.member];
    byId("chosen-name").textContent = name;
    byId("chosen-ratio").textContent = "utilisation " + both(told((paint, member) => paint.said[member]));
    byId("chosen-use").textContent =
      both(told((paint, member) => paint.told[member])) +
      tellMet(told(metBy)) +
      "; group " +
      study.byMember[state.member];
    byId("chosen-link").href = toExplore(name);
    byId("spoken").textContent =
      name + ": " + byId("chosen-ratio").textContent + "; " + byId("chosen-use").textContent;
  };

  /* What the drawing shows, for whoever has it on paper. */
  function tellDrawn() {
    const sections = Object.entries(board().trying.sections).map((pair) => pair.join(" ")),
      tried = board().state.drawn === "tried" && sections.length;
    byId("paper-drawn").textContent = tried ? "Drawn as tried: " + sections.join(", ") : "Drawn as it is now";
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_lighter: {
      showTruss: showTruss,
      showLettered: showLettered,
      showSizing: showSizing,
      showTold: showTold,
      showTrial: showTrial,
    },
  });

  /* ---- the hands on the page ---- */

  function markSections() {
    const { sections } = board().trying;
    for (const select of all("#tried-table select")) select.value = sections[select.dataset.group] || "";
  }

  function markCommands() {
    const { trying, lightest } = board(),
      /* Never quite disabled: a button that was pressed last keeps the focus. */
      off = (does, value) =>
        document.querySelector('[data-do="' + does + '"]').setAttribute("aria-disabled", String(value));
    off("undo", !trying.past.length);
    off("redo", !trying.future.length);
    off("back-to-now", !Object.keys(trying.sections).length);
    off("lightest", !Object.keys(lightest || {}).length);
  }

  function tried(changed) {
    if (!changed) return;
    const { trying, study } = board();
    stillbar.keepTrial(study.key, trying.write());
    markSections();
    markCommands();
    stillbar.askTrial();
    stillbar.tellAddress();
  }

  const COMMANDS = {
    undo: () => tried(board().trying.undo()),
    redo: () => tried(board().trying.redo()),
    "back-to-now": () => tried(board().trying.go({})),
    lightest: () => tried(board().trying.go(board().lightest || {})),
    "call-off": () => set("call-off-data", { data: Date.now() }),
    look: askSizes,
  };

  function clicked(event) {
    if (!board()) return;
    const command = event.target.closest("[data-do]"),
      tries = event.target.closest("#list [data-section]");
    if (command && COMMANDS[command.dataset.do] && command.ariaDisabled !== "true")
      COMMANDS[command.dataset.do]();
    if (tries) {
      tried(board().trying.set(tries.dataset.group, tries.dataset.section));
      byId("trying").scrollIntoView({ block: "nearest" });
    }
    if (event.target.closest("#units-swap")) {
      board().state.units = board().units() === "metric" ? "US" : "metric";
      showUnits();
      askTold();
      stillbar.askTrial();
      stillbar.tellMember();
      stillbar.tellAddress();
    }
  }

  function changed(event) {
    const node = event.target;
    if (!board()) return;
    if (node.id === "drawn") {
      board().state.drawn = node.value;
      board().paint();
      tellDrawn();
    } else if (node.matches("#tried-table select")) tried(board().trying.set(node.dataset.group, node.value));
  }

  /* Ctrl-Z and Ctrl-Shift-Z, and the same with the Command key. */
  function pressed(event) {
    if (!board() || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    COMMANDS[event.shiftKey ? "redo" : "undo"]();
  }

  stillbar.page = {
    wanted: wanted,
    changed: changed,
    clicked: clicked,
    begun: () => document.addEventListener("keydown", pressed),
  };
})();
