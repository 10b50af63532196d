/* Between the server and the board: what arrives is shown, what is chosen is told and kept in the address. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const none = () => window.dash_clientside.no_update;
  const WAYS = ["walk", "loads", "hand", "predict", "tasks"];
  const REST = 180;

  /* ---- the address ---- */

  function wanted() {
    const query = new URLSearchParams(window.location.search),
      place = /^(-?[\d.e+-]+) (forward|backward)$/.exec(query.get("at") || "");
    return {
      study: query.get("study"),
      under: query.get("under"),
      way: query.get("way"),
      step: query.get("step"),
      units: query.get("units"),
      task: stillbar.readTask(query.get("task")),
      place: place ? { position: Number(place[1]), way: place[2] } : null,
    };
  }

  stillbar.keepAddress(function (query) {
    const board = stillbar.stage,
      state = board.state;
    if (board.task) query.set("task", stillbar.taskName(board.task));
    else stillbar.keepStudy(query);
    query.set("under", board.load().name);
    if (state.place) query.set("at", Number(state.place.position.toPrecision(12)) + " " + state.place.way);
    query.set("way", state.way);
    if (state.way === "walk" && state.step) query.set("step", state.step);
    stillbar.keepUnits(query);
  });

  /* ---- telling the server ---- */

  stillbar.tellSetting = function () {
    const board = stillbar.stage,
      state = board.state,
      about = JSON.stringify([state.under, board.units(), state.place, state.own]);
    if (about !== board.about) board.forgetVerdicts();
    board.about = about;
    stillbar.put("setting", {
      key: board.study.key,
      opened: board.opened,
      under: state.under,
      units: board.units(),
      place: state.place,
      own: state.own,
      way: state.way === "hand" ? "hand" : "",
    });
    stillbar.tellAddress();
  };
  stillbar.tellView = (seen) =>
    window.dash_clientside.set_props("view", { data: { azimuth: seen.azimuth, elevation: seen.elevation } });

  stillbar.underTold = function () {
    const board = stillbar.stage;
    if (board.state.own) return "Loads of your own.";
    const place = board.state.place;
    return (
      "Under " +
      board.load().label +
      (place ? ", front at " + tellLength(place.position) + " " + place.way : "") +
      "."
    );
  };

  function tellLength(position) {
    const board = stillbar.stage,
      [label, factor] = board.study.systems[board.units()].length;
    return Number((position / factor).toFixed(2)) + "\u00a0" + label;
  }

  let waiting = 0;
  stillbar.speak = function (text) {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      byId("spoken").textContent = text;
    }, 400);
  };

  /* ---- ways to work ---- */

  function goWay(way) {
    const board = stillbar.stage;
    if (!board || !WAYS.includes(way)) return;
    board.state.way = way;
    for (const name of WAYS) byId("way-" + name).hidden = name !== way;
    for (const button of byId("ways").querySelectorAll("[data-way]"))
      button.setAttribute("aria-pressed", String(button.dataset.way === way));
    document.documentElement.dataset.working = way;
    showWay();
    stillbar.tellSetting();
  }

  function showWay(before) {
    const board = stillbar.stage;
    if (!board.lesson) return;
    if (board.state.way === "walk") stillbar.showWalk();
    else if (board.state.way === "loads") stillbar.showLoads(before);
    else if (board.state.way === "predict") stillbar.showPredict();
    else if (board.state.way === "tasks") stillbar.showTasks();
    else {
      byId("question").textContent = "By hand, joint after joint";
      byId("where").textContent = stillbar.underTold();
    }
    board.paint();
  }

  /* ---- the load, and the place of its train ---- */

  function showFront() {
    const board = stillbar.stage,
      place = byId("front-place"),
      crossing = board.study.crossings[board.load().crossing];
    place.hidden = !crossing;
    place.textContent = "";
    if (!crossing) return;
    const range = document.createElement("input"),
      ways = document.createElement("select"),
      told = document.createElement("span");
    const [low, high] = crossing.reach[board.state.place.way];
    Object.assign(range, {
      type: "range",
      min: low,
      max: high,
      step: (high - low) / 400,
      value: board.state.place.position,
    });
    range.setAttribute("aria-label", "where the train's front stands");
    crossing.ways.forEach((way) => ways.add(new Option(way, way, false, way === board.state.place.way)));
    ways.setAttribute("aria-label", "direction of the train");
    told.textContent = tellLength(board.state.place.position);
    let rest = 0;
    range.addEventListener("input", () => {
      board.state.place = { way: ways.value, position: Number(range.value) };
      board.state.own = null;
      told.textContent = tellLength(board.state.place.position);
      clearTimeout(rest);
      rest = setTimeout(stillbar.tellSetting, REST);
    });
    ways.addEventListener("change", () => {
      board.chooseTrain({ way: ways.value, position: Number(range.value) });
      board.state.own = null;
      showFront();
      stillbar.tellSetting();
    });
    place.append("front at ", range, told, " ", ways);
  }

  function takeLoad(under) {
    const board = stillbar.stage;
    board.state.under = under;
    board.state.own = null;
    board.state.step = 0;
    stillbar.forgetLoads();
    board.forgetRounds();
    board.chooseTrain();
    showFront();
    stillbar.tellSetting();
  }

  /* ---- what arrives ---- */

  function showBoard(data) {
    if (!data) return none();
    const wish = stillbar.wish || {},
      board = new stillbar.Board(data);
    stillbar.stage = board;
    stillbar.wish = null;
    board.task = wish.task || null;
    /* Opened once more, the same study under the same load must be told anew: its lesson is not here yet. */
    board.opened = Date.now();
    byId("under").innerHTML = data.choices;
    document.documentElement.dataset.dimension = data.dimension;
    document.title = data.title + " · Learn · Stillbar";
    byId("paper-title").textContent = data.title + " · an aid, not a check";
    const under = data.unders.findIndex((u) => u.name === wish.under);
    if (under >= 0) board.state.under = under;
    if (wish.units && data.systems[wish.units]) board.state.units = wish.units;
    board.chooseTrain(wish.place);
    board.state.step = Math.max(0, Number(wish.step) || 0);
    markChoices();
    showFront();
    byId("judged").textContent = "";
    stillbar.forgetLoads();
    goWay(WAYS.includes(wish.way) ? wish.way : "walk");
    return none();
  }

  function markChoices() {
    const board = stillbar.stage,
      under = String(board.state.under),
      select = byId("load");
    for (const radio of document.querySelectorAll("#under input"))
      radio.checked = radio.value === under && !board.state.own;
    if (select) select.value = under;
    const unit = board.study.systems[board.units()];
    byId("units-swap").textContent = unit.force[0] + ", " + unit.length[0];
  }

  function showLettered(data) {
    const board = stillbar.stage;
    if (!data || !board) return none();
    const loads = byId("plate").querySelector(".load-place").innerHTML;
    byId("plate").innerHTML = data.plate;
    board.take(byId("plate").querySelector("svg"));
    board.setLoads(loads);
    board.paint();
    return none();
  }

  function showLesson(data) {
    const board = stillbar.stage;
    if (!data || !board) return none();
    if (data.fault) {
      byId("changed").innerHTML = data.fault;
      return none();
    }
    if (data.key !== board.study.key) return none();
    const before = board.lesson && board.lesson.zeros;
    board.lesson = data;
    board.setLoads(data.loads);
    byId("stands").textContent = data.stands;
    byId("stands").hidden = !data.stands;
    markChoices();
    showWay(before);
    document.documentElement.dataset.ready = data.key;
    return none();
  }

  function showHand(data) {
    if (data) byId("hand").innerHTML = data.fault || data;
    return none();
  }

  function showJudged(data) {
    if (!data || !stillbar.stage) return none();
    if (data.fault) byId("judged").innerHTML = data.fault;
    else stillbar.showVerdict(data);
    return none();
  }

  function showTask(data) {
    if (!data) return none();
    if (data.fault) {
      byId("task-line").textContent = data.fault;
      return none();
    }
    const task = { seed: data.seed, level: data.level, space: data.space };
    const wish = stillbar.taskWish || { way: "predict" };
    stillbar.taskWish = null;
    stillbar.setWish(
      Object.assign({}, wish, {
        text: data.text,
        name: stillbar.taskName(task) + ".toml",
        own: true,
        fresh: true,
        task: task,
      }),
    );
    return none();
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_learn: {
      showBoard: showBoard,
      showLettered: showLettered,
      showLesson: showLesson,
      showHand: showHand,
      showJudged: showJudged,
      showTask: showTask,
    },
  });

  /* ---- the hands on the page ---- */

  const COMMANDS = {
    next: () => stillbar.goTo(stillbar.stage.state.step + 1),
    back: () => stillbar.goTo(stillbar.stage.state.step - 1),
    first: () => stillbar.goTo(0),
    last: () => stillbar.goTo(Infinity),
    "add-load": () => stillbar.addLoad(),
    "undo-load": () => stillbar.undoLoad(),
    "study-loads": () => stillbar.studyLoads(),
    check: () => stillbar.check(),
    "clear-marks": () => stillbar.clearMarks(),
    "second-round": () => stillbar.secondRound(),
  };

  stillbar.page = {
    wanted: wanted,
    changed: function (event) {
      const node = event.target;
      if (stillbar.stage && (node.name === "load" || node.id === "load")) takeLoad(Number(node.value));
    },
    clicked: function (event) {
      const board = stillbar.stage,
        command = event.target.closest("[data-do]"),
        way = event.target.closest("[data-way]"),
        step = event.target.closest("[data-step]");
      if (!board) return;
      if (command && COMMANDS[command.dataset.do] && board.lesson) COMMANDS[command.dataset.do]();
      if (way) goWay(way.dataset.way);
      if (step) stillbar.goTo(Number(step.dataset.step));
      if (event.target.closest("#units-swap")) {
        board.state.units = board.units() === "metric" ? "US" : "metric";
        markChoices();
        showFront();
        stillbar.tellSetting();
      }
    },
    begun: function () {
      stillbar.beginTasks(wanted().task);
      addEventListener("keydown", stillbar.walkKey);
      byId("plate").addEventListener("pointerdown", (event) => stillbar.takeLoad(event), true);
      byId("plate").addEventListener(
        "keydown",
        (event) => {
          const board = stillbar.stage;
          if (!board || board.state.way !== "predict" || ![" ", "Enter"].includes(event.key)) return;
          event.preventDefault();
          event.stopImmediatePropagation();
          stillbar.mark(board.state.member);
        },
        true,
      );
    },
    begins: function (wish) {
      if (!wish.task) return false;
      stillbar.taskWish = { way: wish.way || "predict", step: wish.step, units: wish.units };
      stillbar.askTask(wish.task);
      return true;
    },
  };
})();
