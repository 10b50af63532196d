/* Between the server and the stage: what arrives is shown, what is chosen is told and kept in the address. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const set = (id, data) => window.dash_clientside.set_props(id, { data: data });
  const REST = 140;
  const put = stillbar.put;
  let placing = 0,
    arrived = {};

  /* ---- the address ---- */

  function wanted() {
    const query = new URLSearchParams(window.location.search),
      at = query.get("at");
    const place = at ? /^(-?[\d.e+-]+) (forward|backward)$/.exec(at) : null;
    return {
      study: query.get("study"),
      under: query.get("under"),
      member: query.get("member"),
      measure: query.get("show"),
      units: query.get("units"),
      train: query.get("train"),
      beside: query.get("beside"),
      arranged: { tension: 1, compression: -1 }[query.get("for")] || 0,
      position: place ? Number(place[1]) : undefined,
      way: place ? place[2] : undefined,
    };
  }

  const writeAddress = stillbar.keepAddress(function (query) {
    const stage = stillbar.stage,
      state = stage.state;
    stillbar.keepStudy(query);
    query.set("under", stage.load().name);
    query.set("member", stage.study.members[state.member]);
    if (stage.crossing()) query.set("at", Number(state.position.toPrecision(12)) + " " + state.way);
    if (state.train) query.set("train", stage.trainNow().name);
    if (state.beside >= 0) query.set("beside", stage.study.unders[state.beside].name);
    if (state.arranged) query.set("for", state.arranged > 0 ? "tension" : "compression");
    if (state.measure !== "force now") query.set("show", state.measure);
    stillbar.keepUnits(query);
  });

  /* ---- telling the server ---- */

  stillbar.tell = function () {
    const stage = stillbar.stage,
      state = stage.state;
    const train = stage.train(),
      key = stage.study.key;
    put("place-chosen", train ? Object.assign({ key: key }, train) : null);
    put("member-chosen", { key: key, member: state.member });
    put("load-chosen", {
      key: key,
      under: state.under,
      units: stage.units(),
      train: state.train,
      arranged: state.arranged,
      beside: state.beside,
    });
    stillbar.markChoice();
    stillbar.askTrain();
    stillbar.showRow();
    stillbar.tellAddress();
  };
  stillbar.tellPlace = function () {
    clearTimeout(placing);
    placing = setTimeout(() => {
      const train = stillbar.stage.train();
      if (train) put("place-chosen", Object.assign({ key: stillbar.stage.study.key }, train));
      stillbar.tellAddress();
    }, REST);
  };
  stillbar.tellView = (seen) => set("view", { azimuth: seen.azimuth, elevation: seen.elevation });

  /* ---- what arrives ---- */

  function showStage(data) {
    if (!data) return window.dash_clientside.no_update;
    stillbar.stop();
    const wish = stillbar.wish || {},
      first = !stillbar.stage;
    arrived = {};
    byId("under").innerHTML = data.choices.under;
    byId("measure-place").innerHTML = data.choices.measure;
    byId("facts").innerHTML = data.facts;
    stillbar.listTrains(data.choices.trains);
    stillbar.putBack();
    stillbar.stage = new stillbar.Stage(
      data.packed,
      { plate: data.plate, overview: data.overview },
      first || wish.fresh ? wish : {},
    );
    if (wish.units && data.packed.systems[wish.units]) stillbar.stage.state.units = wish.units;
    document.documentElement.dataset.dimension = data.packed.dimension;
    byId("paper-title").textContent =
      data.packed.title + " · " + new Date().toISOString().slice(0, 10) + " · an aid, not a check";
    document.title = data.packed.title + " · Stillbar";
    stillbar.wish = null;
    if (stillbar.stage.missing)
      byId("opening-note").textContent =
        "The address asks for the load " + stillbar.stage.missing + ", which this study has not got.";
    stillbar.stage.paint();
    stillbar.tell();
    writeAddress();
    stillbar.showKey();
    return window.dash_clientside.no_update;
  }

  function showLettered(data) {
    const stage = stillbar.stage;
    if (!data || !stage) return window.dash_clientside.no_update;
    const view = stage.drawing.view,
      least = stage.drawing.least;
    const loads = byId("plate").querySelector(".load-place").innerHTML;
    byId("plate").innerHTML = data.plate;
    byId("plate").querySelector(".load-place").innerHTML = loads;
    stage.drawing = new stillbar.Stroked(byId("plate").querySelector("svg"), stage.study);
    stage.drawing.choose(stage.state.member);
    stage.fit();
    stage.drawing.least = least;
    stage.drawing.view = view;
    stage.drawing.place();
    stage.paint();
    return window.dash_clientside.no_update;
  }

  /* Of two answers the older may come last: what is about another member or load is left to the newer one. */
  function isAskedFor({ key, member, under }) {
    const { study, state } = stillbar.stage;
    return key === study.key && member === state.member && under === state.under;
  }

  const show = (name, act, wanted) =>
    function (data) {
      if (data !== null && data !== undefined && stillbar.stage && (!wanted || wanted(data))) {
        act(data);
        arrived[name] = true;
        ready();
      }
      return window.dash_clientside.no_update;
    };

  function ready() {
    if (["loads", "strip", "sheet", "schedule"].every((name) => arrived[name]))
      document.documentElement.dataset.ready = stillbar.stage.study.key;
  }
  stillbar.arrive = function (name) {
    arrived[name] = true;
    ready();
  };

  function showSheet({ markup }) {
    const open = [...document.querySelectorAll("#sheet details")].map((d) => d.open);
    byId("sheet").innerHTML = markup;
    document.querySelectorAll("#sheet details").forEach((d, i) => {
      d.open = Boolean(open[i]);
    });
    stillbar.stage.paint();
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_page: {
      showStage: showStage,
      showLettered: showLettered,
      showLoads: show("loads", (markup) => stillbar.stage.setLoads(markup)),
      showStrip: show("strip", (markup) => stillbar.stage.setTrack(markup)),
      showSheet: show("sheet", showSheet, isAskedFor),
      showTrain: show("train", (markup) => {
        byId("train-shown").innerHTML = markup;
      }),
    },
  });

  stillbar.page = { wanted: wanted };
})();
