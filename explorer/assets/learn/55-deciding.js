/* What decides at a step stands out: the joint in a ring, with its name; the part, and the members cut. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const LETTER = 6.9,
    HALF_LINE = 7,
    ROOM = 3,
    FOOT = 22,
    TURNS = 16;
  const ACROSS = 7,
    FROM_PART = 26;

  class Deciding {
    constructor(drawing) {
      const svg = drawing.svg;
      this.drawing = drawing;
      this.under = svg.querySelector(".capsule-place");
      this.rings = [...svg.querySelectorAll(".joints > *")];
      this.ring = stillbar.make("circle", { class: "deciding off", r: 9 }, this.under);
      this.name = stillbar.make(
        "text",
        { class: "deciding-name off", y: 4, "text-anchor": "middle" },
        svg.querySelector(".tag-place"),
      );
      this.also = [];
    }

    /* A step, or null where none is shown; `chosen` carries its name, `pointed` is asked about, or -1. */
    show(step, chosen, pointed) {
      const joint = step ? step.joint : -1,
        part = new Set(step ? step.part : []);
      this.rings.forEach((ring, j) => ring.classList.toggle("in-part", part.has(j)));
      if (this.drawing.chosen !== chosen) this.drawing.choose(chosen);
      this.also.forEach((node) => node.remove());
      this.also = (step ? step.members.slice(1) : []).map((member) => this.surround(member, "capsule"));
      if (pointed >= 0) this.also.push(this.surround(pointed, "capsule hover"));
      if (step && step.kind === "cut") this.also.push(...this.strike(part));
      this.ring.classList.toggle("off", joint < 0);
      if (joint >= 0) stillbar.hang(this.ring, this.drawing.sx[joint], this.drawing.sy[joint]);
      this.nameJoint(joint);
    }

    surround(member, kind) {
      const capsule = stillbar.make("rect", { class: kind, y: -9, height: 18, rx: 9 }, this.under);
      this.drawing.capsuleAlong(capsule, member);
      return capsule;
    }

    /* Members with one end in the part are those that the cut goes through. */
    strike(part) {
      const { sx, sy, study } = this.drawing;
      return study.ends
        .filter(([a, b]) => part.has(a) !== part.has(b))
        .map(([a, b]) => {
          const [from, to] = part.has(a) ? [a, b] : [b, a],
            dx = sx[to] - sx[from],
            dy = sy[to] - sy[from],
            length = Math.hypot(dx, dy) || 1e-9,
            share = Math.min(0.35, FROM_PART / length),
            stroke = stillbar.make("line", { class: "cut-stroke", y1: -ACROSS, y2: ACROSS }, this.under);
          const turn = (Math.atan2(dy, dx) * 180) / Math.PI,
            at = [sx[from] + share * dx, sy[from] + share * dy];
          stroke.setAttribute("transform", "translate(" + at + ") rotate(" + turn + ")");
          return stroke;
        });
    }

    /* The name that the drawing itself has no room for here stands where it covers least. */
    nameJoint(joint) {
      const letter = this.drawing.letters.find((l) => l.member === null && l.a === joint && l.b === joint),
        needed = joint >= 0 && !(letter && letter.shown);
      this.name.classList.toggle("off", !needed);
      if (!needed) return;
      const name = this.drawing.study.names[joint],
        half = (LETTER * name.length) / 2 + ROOM,
        taken = this.taken();
      let best = null,
        least = Infinity;
      for (const [right, down] of places(letter, half)) {
        const x = this.drawing.sx[joint] + right,
          y = this.drawing.sy[joint] + down,
          cost = this.cost({ x: x, y: y, half: half, high: HALF_LINE }, taken);
        if (cost < least) [best, least] = [[x, y], cost];
      }
      this.name.textContent = name;
      stillbar.hang(this.name, ...best);
    }

    /* Boxes that a name keeps off, each with what covering it costs. */
    taken() {
      const drawing = this.drawing,
        { sx, sy, study } = drawing;
      const boxes = drawing.letters
        .filter((letter) => letter.shown && letter.text.textContent)
        .map((letter) => ({
          x: (1 - letter.share) * sx[letter.a] + letter.share * sx[letter.b] + letter.dx,
          y: (1 - letter.share) * sy[letter.a] + letter.share * sy[letter.b] + letter.dy,
          half: (LETTER * letter.text.textContent.length) / 2,
          high: HALF_LINE,
          cost: 20,
        }));
      for (const group of drawing.svg.querySelectorAll(".support")) {
        const j = Number(group.dataset.j);
        boxes.push({ x: sx[j], y: sy[j] + FOOT / 2, half: FOOT / 2, high: FOOT / 2, cost: 10 });
      }
      sx.forEach((x, j) => boxes.push({ x: x, y: sy[j], half: 4, high: 4, cost: 10 }));
      if (drawing.chosen < 0) return boxes;
      const [a, b] = study.ends[drawing.chosen],
        width = Number(drawing.tagBack.getAttribute("width"));
      boxes.push({ x: (sx[a] + sx[b]) / 2, y: (sy[a] + sy[b]) / 2, half: width / 2, high: 10, cost: 200 });
      return boxes;
    }

    cost(box, taken) {
      const { sx, sy, study, svg } = this.drawing,
        edge = Number(svg.getAttribute("width"));
      let cost = box.x - box.half < 0 || box.x + box.half > edge || box.y - box.high < 0 ? 100 : 0;
      for (const other of taken)
        if (
          Math.abs(other.x - box.x) < other.half + box.half &&
          Math.abs(other.y - box.y) < other.high + box.high
        )
          cost += other.cost;
      for (const [a, b] of study.ends) if (passes([sx[a], sy[a]], [sx[b], sy[b]], box)) cost += 2;
      return cost;
    }
  }

  /* Where a joint's name may stand: as lettered, then around the ring, near it and farther away. */
  function places(letter, half) {
    const found = letter ? [[letter.dx, letter.dy]] : [];
    for (const far of [1, 1.7])
      for (let turn = 0; turn < TURNS; turn++) {
        const angle = (2 * Math.PI * turn) / TURNS - Math.PI / 2;
        found.push([far * Math.cos(angle) * (half + 11), far * Math.sin(angle) * 18]);
      }
    return found;
  }

  /* Whether a line from one point to another meets a box. */
  function passes(from, to, box) {
    let enters = 0,
      leaves = 1;
    for (const [axis, middle, half] of [
      [0, box.x, box.half],
      [1, box.y, box.high],
    ]) {
      const along = to[axis] - from[axis],
        off = middle - from[axis];
      if (Math.abs(along) < 1e-9) {
        if (Math.abs(off) > half) return false;
        continue;
      }
      const [near, far] = [(off - half) / along, (off + half) / along].sort((a, b) => a - b);
      enters = Math.max(enters, near);
      leaves = Math.min(leaves, far);
    }
    return enters < leaves;
  }

  stillbar.Deciding = Deciding;
})();
