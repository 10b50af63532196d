/* What goes with a train besides its axles: strips, lanes where they are arranged, the second train. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const HEIGHT = [5, 22];

  /* The front of the second train: where it is arranged, none where loads stand as they are. */
  stillbar.secondFront = function (stage, train) {
    const arranged = stage.arrangedNow();
    return arranged ? stillbar.secondAt(arranged.ways[train.way], train.position) : null;
  };

  /* Whether an axle at a place relieves the member for which loads are arranged, and so is left out. */
  stillbar.leftOut = function (stage, place) {
    if (!stage.arrangedNow() || !stage.trainNow().relieving) return false;
    const crossing = stage.crossing(),
      at = crossing.positions,
      row = stage.state.member * at.length;
    if (place < at[0] || place > at[at.length - 1]) return false;
    let k = 0;
    while (k < at.length - 2 && at[k + 1] < place) k++;
    const share = (place - at[k]) / (at[k + 1] - at[k]),
      ordinate = (1 - share) * crossing.influence[row + k] + share * crossing.influence[row + k + 1];
    return stage.state.arranged * Math.sign(stage.load().factor || 1) * ordinate <= 0;
  };

  /* Put wheels, the line that joins them and the handle where the train stands. */
  stillbar.placeTrain = function (stage, train) {
    const d = stage.drawing,
      sign = train.way === "forward" ? 1 : -1,
      radius = d.trainGroup ? +d.trainGroup.dataset.radius : 0;
    const wheels = [],
      hidden = new Set();
    const follower = stillbar.secondFront(stage, train);
    for (const axle of d.axles) {
      const from = axle.second ? follower : train.position;
      if (from === null) {
        axle.group.classList.add("away");
        continue;
      }
      const [x, y, on] = stage.road(from - sign * axle.distance);
      const place = [d.x(x), d.y(y) - 4];
      if (!axle.second) wheels.push(place);
      stillbar.hang(axle.group, place[0], place[1]);
      axle.group.classList.toggle("away", !on || stillbar.leftOut(stage, from - sign * axle.distance));
    }
    const grown = Math.min(13, Math.max(4, radius * d.view.zoom));
    for (const axle of d.axles) {
      axle.wheel.setAttribute("r", grown);
      axle.wheel.setAttribute("cy", -grown);
    }
    if (wheels.length) {
      const line = d.trainGroup.querySelector(".frame-line"),
        xs = wheels.map((w) => w[0]),
        top = Math.min(...wheels.map((w) => w[1])) - 1.9 * grown;
      line.setAttribute("x1", Math.min(...xs) - 1.2 * grown);
      line.setAttribute("x2", Math.max(...xs) + 1.2 * grown);
      line.setAttribute("y1", top);
      line.setAttribute("y2", top);
    }
    for (const letter of d.values) {
      if (letter.from > d.view.zoom) continue;
      const x = (1 - letter.share) * d.sx[letter.a] + letter.share * d.sx[letter.b] + letter.dx,
        y = (1 - letter.share) * d.sy[letter.a] + letter.share * d.sy[letter.b] + letter.dy;
      if (wheels.some((w) => Math.abs(w[0] - x) < 34 && y < w[1] + 4 && y > w[1] - 56))
        hidden.add(letter.member);
    }
    const changed = hidden.size !== d.hidden.size || [...hidden].some((m) => !d.hidden.has(m));
    d.hidden = hidden;
    if (changed) for (const letter of d.values) d.placeLetter(letter);
    if (!stage.track) return;
    const axles = stage.trainNow().axles.map(([distance]) => train.position - sign * distance);
    const reach = [stage.track.position(0), stage.track.position(stage.width)].sort((a, b) => a - b);
    const strips = stage.trainNow().strips.map(([near, far]) => {
      const ends = [
        train.position - sign * near,
        far === null ? -sign * Infinity : train.position - sign * far,
      ];
      return ends.sort((a, b) => a - b).map((place) => Math.min(reach[1], Math.max(reach[0], place)));
    });
    stage.track.put(train, stillbar.tellPosition(stage, train.position), axles, strips);
  };

  function outside([start, end], clear) {
    if (!clear) return [[start, end]];
    return [
      [start, Math.min(end, clear[0])],
      [Math.max(start, clear[1]), end],
    ].filter(([a, b]) => b > a);
  }

  /* Uniform loads as [kind, from, to, load] in positions of a chord. */
  function bands(stage, train) {
    const found = [],
      arranged = stage.arrangedNow();
    if (train) {
      const sign = train.way === "forward" ? 1 : -1,
        own = stage.trainNow(),
        front = stillbar.secondFront(stage, train);
      const add = (strips, from) => {
        for (const [near, far, load] of strips) {
          const ends = [from - sign * near, far === null ? -sign * Infinity : from - sign * far];
          found.push(["strip", Math.min(...ends), Math.max(...ends), load, stage.crossing()]);
        }
      };
      add(own.strips, train.position);
      if (own.second && front !== null) add(own.second.strips, front);
      if (arranged && arranged.own) {
        const ends = arranged.own.clear && arranged.own.clear.map((d) => train.position - sign * d);
        const clear = ends && [Math.min(...ends), Math.max(...ends)];
        for (const stretch of arranged.own.stretches)
          for (const [from, to] of outside(stretch, clear))
            found.push(["lane", from, to, arranged.own.load, stage.crossing()]);
      }
    }
    for (const lane of arranged ? arranged.lanes : [])
      for (const [from, to] of lane.stretches)
        found.push(["lane", from, to, lane.load, stage.study.crossings[lane.crossing]]);
    return found;
  }

  /* A band over a stretch of a chord, as high as its load against the heaviest. */
  function outline(stage, from, to, crossing, height) {
    const at = crossing.positions,
      d = stage.drawing,
      joints = crossing.joints;
    from = Math.max(from, at[0]);
    to = Math.min(to, at[at.length - 1]);
    if (!(to > from)) return "";
    const point = (place) => {
      let k = 0;
      while (k < at.length - 2 && at[k + 1] < place) k++;
      const share = (place - at[k]) / (at[k + 1] - at[k]),
        [a, b] = [joints[k], joints[k + 1]];
      return [d.x(d.px[a] + share * (d.px[b] - d.px[a])), d.y(d.py[a] + share * (d.py[b] - d.py[a])) - 4];
    };
    const places = [from, ...at.filter((p) => p > from && p < to), to].map(point);
    const text = ([x, y]) => x.toFixed(1) + "," + y.toFixed(1);
    const top = [...places].reverse().map(([x, y]) => [x, y - height]);
    return "M" + [...places, ...top].map(text).join("L") + "Z";
  }

  stillbar.placeTraffic = function (stage, train) {
    const group = stage.drawing.svg.querySelector(".bands");
    if (!group) return;
    const shown = bands(stage, train),
      most = Math.max(...shown.map(([, , , load]) => Math.abs(load)), 0);
    while (group.childNodes.length < shown.length) stillbar.make("path", {}, group);
    while (group.childNodes.length > shown.length) group.removeChild(group.lastChild);
    shown.forEach(([kind, from, to, load, crossing], i) => {
      const height = HEIGHT[0] + ((HEIGHT[1] - HEIGHT[0]) * Math.abs(load)) / most;
      const path = group.childNodes[i];
      path.setAttribute("class", kind);
      path.setAttribute("d", outline(stage, from, to, crossing, height));
    });
  };
})();
