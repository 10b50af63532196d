/* Other loads: added, moved, turned and removed on the drawing or in the list; what changes is told at once. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const stage = () => stillbar.stage;
  const STEP = 15;
  const past = [];

  const size = (vector) => Math.hypot(...vector);
  const angle = (vector) => ((Math.atan2(vector[1], vector[0]) * 180) / Math.PI + 360) % 360;
  const along = (length, degrees) =>
    [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)].map((part) =>
      Math.abs(part) < 1e-12 ? 0 : length * part,
    );

  /* ---- the loads themselves ---- */

  function loads() {
    return (stage().state.own || stage().lesson.own).map(([joint, vector]) => [joint, [...vector]]);
  }

  function change(next) {
    past.push(stage().state.own);
    stage().state.own = next;
    stillbar.tellSetting();
  }

  stillbar.forgetLoads = function () {
    past.length = 0;
  };

  stillbar.addLoad = function () {
    const board = stage(),
      taken = new Set(loads().map(([joint]) => joint)),
      xs = board.study.joints.map((p) => p[0]),
      middle = (Math.min(...xs) + Math.max(...xs)) / 2;
    const near = xs.map((x, j) => [Math.abs(x - middle), j]).sort((a, b) => a[0] - b[0]),
      joint = (near.find(([, j]) => !taken.has(j)) || near[0])[1];
    const vector = board.study.dimension === 2 ? [0, -10] : [0, 0, -10];
    change([...loads(), [joint, vector.map((part) => part * board.force()[1])]]);
  };
  stillbar.undoLoad = function () {
    if (!past.length) return;
    stage().state.own = past.pop();
    stillbar.tellSetting();
  };
  stillbar.studyLoads = function () {
    if (stage().state.own) change(null);
  };

  /* ---- the list ---- */

  function field(label, value, act) {
    const input = document.createElement("input");
    Object.assign(input, { type: "number", step: "any", value: String(value) });
    input.setAttribute("aria-label", label);
    input.addEventListener("change", () => {
      const given = Number(input.value);
      if (input.value.trim() !== "" && Number.isFinite(given)) act(given);
      else input.value = String(value);
    });
    return input;
  }

  function row([joint, vector], number) {
    const board = stage(),
      [unit, factor] = board.force(),
      item = document.createElement("li"),
      select = document.createElement("select"),
      remove = document.createElement("button");
    board.study.names.forEach((name, j) => select.add(new Option(name, j, false, j === joint)));
    select.setAttribute("aria-label", "joint of load " + (number + 1));
    const put = (j, v) => {
      const next = loads();
      next[number] = [j, v];
      change(next);
    };
    select.addEventListener("change", () => put(Number(select.value), vector));
    item.append(select);
    if (vector.length === 2) {
      const length = Number((size(vector) / factor).toPrecision(6)),
        degrees = Number(angle(vector).toFixed(2));
      item.append(
        field("size in " + unit, length, (value) => put(joint, along(value * factor, degrees))),
        unit,
        field("direction in degrees from the right, anticlockwise", degrees, (value) =>
          put(joint, along(size(vector), value)),
        ),
        "°",
      );
    } else {
      vector.forEach((part, axis) =>
        item.append(
          "xyz"[axis],
          field("xyz"[axis] + " in " + unit, Number((part / factor).toPrecision(6)), (value) =>
            put(
              joint,
              vector.map((old, a) => (a === axis ? value * factor : old)),
            ),
          ),
        ),
      );
      item.append(unit);
    }
    Object.assign(remove, { type: "button", textContent: "remove" });
    remove.addEventListener("click", () => change(loads().filter((_, other) => other !== number)));
    item.append(remove);
    return item;
  }

  stillbar.showLoads = function (before) {
    const list = document.createElement("ul"),
      own = loads();
    list.className = "load-list";
    own.forEach((load, number) => list.append(row(load, number)));
    byId("own-loads").replaceChildren(list);
    if (!own.length) list.append(Object.assign(document.createElement("li"), { textContent: "no load" }));
    byId("all-reasons").innerHTML = stage().lesson.reasons;
    document.querySelector('[data-do="undo-load"]').disabled = !past.length;
    showChanged(before);
    const zeros = stage().lesson.zeros.length;
    byId("question").textContent = "Change the loads: which members fall still, which wake?";
    byId("where").textContent =
      zeros + " of " + stage().study.members.length + " members zero. " + stillbar.underTold();
  };

  function showChanged(before) {
    const names = stage().study.members,
      now = new Set(stage().lesson.zeros),
      old = new Set(before || stage().lesson.zeros);
    const told = [
      ["wake", [...old].filter((m) => !now.has(m))],
      ["fall still", [...now].filter((m) => !old.has(m))],
      ["zero before and now", [...now].filter((m) => old.has(m))],
    ];
    const list = document.createElement("ul");
    list.className = "because";
    for (const [words, members] of told) {
      const item = document.createElement("li"),
        name = document.createElement("b"),
        text = document.createElement("span");
      name.textContent = words;
      text.textContent = members.map((m) => names[m]).join(", ") || "none";
      item.append(name, text);
      list.append(item);
    }
    byId("changed").replaceChildren(list);
  }

  /* ---- on the drawing: an arrow's outer half turns about its joint, the half nearer the joint moves ---- */

  /* Tail and tip of a load's arrow, in pixels from its joint. */
  stillbar.arrowEnds = function (group) {
    const line = group.querySelector(".arrow line"),
      tip = group.querySelector(".arrow polygon").points[0];
    return [
      [line.x1.baseVal.value, line.y1.baseVal.value],
      [tip.x, tip.y],
    ];
  };

  function outerHalf(group, x, y) {
    const ends = stillbar.arrowEnds(group).sort((a, b) => size(a) - size(b)),
      [inner, outer] = ends.map((end) => Math.hypot(x - end[0], y - end[1]));
    return outer < inner;
  }

  stillbar.takeLoad = function (event) {
    const board = stage(),
      group = event.target.closest(".load");
    if (!group || !board || board.state.way !== "loads") return;
    event.preventDefault();
    event.stopPropagation();
    const joint = Number(group.dataset.j),
      drawing = board.drawing,
      box = drawing.svg.getBoundingClientRect(),
      at = [drawing.sx[joint], drawing.sy[joint]];
    const place = (e) => [e.clientX - box.left, e.clientY - box.top],
      from = place(event),
      turns = board.study.dimension === 2 && outerHalf(group, from[0] - at[0], from[1] - at[1]);
    let to = null;
    const move = (e) => {
      const [x, y] = place(e);
      if (turns) {
        const raw =
          ((Math.atan2(y - at[1], x - at[0]) - Math.atan2(from[1] - at[1], from[0] - at[0])) * 180) / Math.PI;
        to = e.shiftKey ? Math.round(raw) : STEP * Math.round(raw / STEP);
        group.setAttribute("transform", "translate(" + at + ") rotate(" + to + ")");
      } else {
        to = nearestJoint(drawing, x, y);
        stillbar.hang(group, drawing.sx[to], drawing.sy[to]);
      }
    };
    const end = (e) => {
      removeEventListener("pointermove", move);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
      if (e.type === "pointerup" && to !== null) settle(joint, turns, to);
      else drawing.place();
    };
    addEventListener("pointermove", move);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  };

  function settle(joint, turns, to) {
    const next = loads().map(([j, vector]) => {
      if (j !== joint) return [j, vector];
      /* Down in the picture is up in the study: a turn to the right there is one to the left here. */
      return turns ? [j, along(size(vector), angle(vector) - to)] : [to, vector];
    });
    change(next);
  }

  function nearestJoint(drawing, x, y) {
    let best = 0,
      least = Infinity;
    for (let j = 0; j < drawing.sx.length; j++) {
      const off = Math.hypot(drawing.sx[j] - x, drawing.sy[j] - y);
      if (off < least) {
        least = off;
        best = j;
      }
    }
    return best;
  }
})();
