/* The drawing: moves what hangs on joints as one zooms, pans and turns, and paints bars and values. */
(function () {
  "use strict";

  const stillbar = (window.stillbar = window.stillbar || {});
  const SVG = "http://www.w3.org/2000/svg";
  const RING = 3.6,
    WALL = 1.25,
    LETTER = 6.9;
  /* Room under a truss, and at its ends where it stands by itself. */
  const BELOW = 70,
    ENDS = 40;

  stillbar.make = function (tag, attributes, parent) {
    const node = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes || {})) node.setAttribute(name, value);
    if (parent) parent.appendChild(node);
    return node;
  };
  const hang = (node, x, y) =>
    node.setAttribute("transform", "translate(" + x.toFixed(2) + "," + y.toFixed(2) + ")");
  stillbar.hang = hang;

  class Drawing {
    constructor(svg, study) {
      this.svg = svg;
      this.study = study;
      const data = svg.dataset;
      this.frame = {
        scale: +data.scale,
        left: +data.left,
        base: +data.base,
        top: +data.top,
        width: +data.width,
        height: +data.height,
      };
      this.seen = { azimuth: +data.azimuth, elevation: +data.elevation };
      this.view = { zoom: 1, x: 0, y: 0 };
      this.turning = false;
      this.bars = [...svg.querySelectorAll(".bars > .bar")].map((group) => ({
        group: group,
        lines: [...group.children],
        look: "",
        f: "",
      }));
      this.letters = [...svg.querySelectorAll(".letters > g")].map((group) => this.readLetter(group));
      this.values = this.letters.filter((letter) => letter.member !== null);
      this.hidden = new Set();
      this.rehang();
      this.makeChosen();
      this.settle();
    }

    readLetter(group) {
      const d = group.dataset;
      return {
        group: group,
        a: +d.a,
        b: +d.b,
        share: +d.t,
        dx: +d.dx,
        dy: +d.dy,
        from: d.from === "never" ? Infinity : +d.from,
        member: d.m === undefined ? null : +d.m,
        text: group.querySelector("text"),
        gap: group.querySelector(".gap"),
        shown: !group.classList.contains("off"),
        said: null,
      };
    }

    /* Loads and reactions come and go with the choice of load: look again for what hangs on joints. */
    rehang() {
      this.hung = [...this.svg.querySelectorAll("[data-j]")]
        .filter((g) => !g.closest(".letters"))
        .map((group) => ({
          group: group,
          joint: +group.dataset.j,
          vector: group.dataset.v ? group.dataset.v.split(",").map(Number) : null,
        }));
      this.numbers = [...this.svg.querySelectorAll(".loads text[data-from], .train text[data-from]")];
      this.trainGroup = this.svg.querySelector(".train");
      this.axles = this.trainGroup
        ? [...this.trainGroup.querySelectorAll(".axle")].map((g) => ({
            group: g,
            distance: +g.dataset.d,
            second: g.classList.contains("second"),
            wheel: g.querySelector(".wheel"),
          }))
        : [];
      this.reactions = [...this.svg.querySelectorAll(".reaction")].map((g) => ({
        group: g,
        row: +g.dataset.r,
        text: g.querySelector("text"),
      }));
    }

    makeChosen() {
      const under = this.svg.querySelector(".capsule-place"),
        over = this.svg.querySelector(".tag-place");
      this.capsule = stillbar.make("rect", { class: "capsule off", y: -9, height: 18, rx: 9 }, under);
      this.hover = stillbar.make("rect", { class: "capsule hover off", y: -9, height: 18, rx: 9 }, under);
      this.tag = stillbar.make("g", { class: "tag off" }, over);
      this.tagBack = stillbar.make("rect", { y: -9.5, height: 19, rx: 2 }, this.tag);
      this.tagText = stillbar.make("text", { y: 4, "text-anchor": "middle" }, this.tag);
      this.tagName = stillbar.make("tspan", {}, this.tagText);
      this.tagValue = stillbar.make("tspan", { class: "tag-value" }, this.tagText);
      this.chosen = -1;
    }

    /* Joints in pixels at zoom 1. In space: a parallel projection, as in explorer/drawing/view.py. */
    settle() {
      const frame = this.frame,
        joints = this.study.joints,
        count = joints.length;
      this.px = new Float64Array(count);
      this.py = new Float64Array(count);
      const around = (this.seen.azimuth * Math.PI) / 180,
        above = (this.seen.elevation * Math.PI) / 180;
      const sa = Math.sin(around),
        ca = Math.cos(around),
        se = Math.sin(above),
        ce = Math.cos(above);
      for (let j = 0; j < count; j++) {
        const p = joints[j];
        const right = p.length === 2 ? p[0] : -sa * p[0] + ca * p[1];
        const up = p.length === 2 ? p[1] : -ca * se * p[0] - sa * se * p[1] + ce * p[2];
        this.px[j] = frame.left + frame.scale * right;
        this.py[j] = frame.base - frame.scale * up;
      }
      const lengths = this.study.ends
        .map(([a, b]) => Math.hypot(this.px[a] - this.px[b], this.py[a] - this.py[b]))
        .sort((a, b) => a - b);
      this.usual = lengths[Math.floor(lengths.length / 4)] || 40;
      this.place();
    }

    x(canonical) {
      return this.view.zoom * canonical + this.view.x;
    }
    y(canonical) {
      return this.view.zoom * (canonical - this.frame.top) + this.frame.top + this.view.y;
    }

    place() {
      const count = this.px.length;
      this.sx = this.sx || new Float64Array(count);
      this.sy = this.sy || new Float64Array(count);
      for (let j = 0; j < count; j++) {
        this.sx[j] = this.x(this.px[j]);
        this.sy[j] = this.y(this.py[j]);
      }
      /* Where bars are short, rings give way to them. */
      this.ring = Math.min(RING, Math.max(1, 0.1 * this.usual * this.view.zoom));
      this.svg.style.setProperty("--ring", this.ring.toFixed(2));
      this.placeBars();
      for (const item of this.hung) hang(item.group, this.sx[item.joint], this.sy[item.joint]);
      for (const letter of this.letters) this.placeLetter(letter);
      for (const text of this.numbers) text.classList.toggle("off", this.view.zoom < +text.dataset.from);
      this.placeChosen();
    }

    placeBars() {
      const ends = this.study.ends;
      for (let i = 0; i < this.bars.length; i++) {
        const a = ends[i][0],
          b = ends[i][1];
        const dx = this.sx[b] - this.sx[a],
          dy = this.sy[b] - this.sy[a],
          length = Math.hypot(dx, dy) || 1e-9;
        const short = Math.min(1.8 * this.ring, 0.4 * length),
          inside = length - 2 * short,
          wall = Math.min(WALL, inside / 2);
        const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
        const x = this.sx[a] + (dx / length) * short,
          y = this.sy[a] + (dy / length) * short;
        const bar = this.bars[i];
        bar.group.setAttribute(
          "transform",
          "translate(" + x.toFixed(2) + "," + y.toFixed(2) + ") rotate(" + turn.toFixed(3) + ")",
        );
        bar.lines[0].setAttribute("x2", inside.toFixed(2));
        bar.lines[1].setAttribute("x1", wall.toFixed(2));
        bar.lines[1].setAttribute("x2", (inside - wall).toFixed(2));
        bar.lines[2].setAttribute("x2", inside.toFixed(2));
      }
    }

    placeLetter(letter) {
      const x = (1 - letter.share) * this.sx[letter.a] + letter.share * this.sx[letter.b] + letter.dx;
      const y = (1 - letter.share) * this.sy[letter.a] + letter.share * this.sy[letter.b] + letter.dy;
      const shown =
        !this.underTag(x, y) &&
        !this.turning &&
        this.view.zoom >= letter.from * 0.9999 &&
        !this.hidden.has(letter.member);
      if (shown !== letter.shown) {
        letter.group.classList.toggle("off", !shown);
        letter.shown = shown;
      }
      if (!shown) return;
      hang(letter.group, x, y);
    }

    /* The chosen member's name lies over everything: what stood there gives way. */
    underTag(x, y) {
      if (this.chosen < 0) return false;
      const [a, b] = this.study.ends[this.chosen],
        half = 0.5 * LETTER * (this.study.members[this.chosen].length + 6) + 20;
      return (
        Math.abs(x - (this.sx[a] + this.sx[b]) / 2) < half && Math.abs(y - (this.sy[a] + this.sy[b]) / 2) < 16
      );
    }

    choose(member) {
      if (this.chosen >= 0 && this.bars[this.chosen]) this.bars[this.chosen].group.classList.remove("chosen");
      this.chosen = member;
      if (member >= 0) this.bars[member].group.classList.add("chosen");
      for (const letter of this.letters) this.placeLetter(letter);
      this.placeChosen();
    }

    point(member) {
      this.capsuleAlong(this.hover, member === this.chosen ? -1 : member);
    }

    capsuleAlong(capsule, member) {
      capsule.classList.toggle("off", member < 0);
      if (member < 0) return null;
      const [a, b] = this.study.ends[member];
      const dx = this.sx[b] - this.sx[a],
        dy = this.sy[b] - this.sy[a],
        length = Math.hypot(dx, dy);
      const short = Math.min(16, 0.3 * length),
        turn = (Math.atan2(dy, dx) * 180) / Math.PI;
      const x = this.sx[a] + (dx / (length || 1)) * short,
        y = this.sy[a] + (dy / (length || 1)) * short;
      capsule.setAttribute("transform", "translate(" + x + "," + y + ") rotate(" + turn + ")");
      capsule.setAttribute("width", Math.max(0, length - 2 * short));
      return [(this.sx[a] + this.sx[b]) / 2, (this.sy[a] + this.sy[b]) / 2];
    }

    placeChosen() {
      if (!this.tag) return;
      const middle = this.capsuleAlong(this.capsule, this.chosen);
      this.tag.classList.toggle("off", !middle);
      if (!middle) return;
      const name = this.study.members[this.chosen],
        said = this.saidOfChosen || "",
        width = LETTER * (name.length + (said ? said.length + 1 : 0)) + 14;
      if (this.tagName.textContent !== name) this.tagName.textContent = name;
      if (this.tagValue.textContent !== " " + said) this.tagValue.textContent = " " + said;
      this.tagBack.setAttribute("x", -width / 2);
      this.tagBack.setAttribute("width", width);
      hang(this.tag, middle[0], middle[1]);
    }

    /* Paint all bars: looks[i] is a class, parts[i] from 0 to 1, said[i] what stands at the member. */
    paint(looks, parts, said) {
      for (let i = 0; i < this.bars.length; i++) {
        const bar = this.bars[i],
          f = parts[i].toFixed(2);
        if (bar.look !== looks[i]) {
          bar.group.setAttribute("class", "bar " + looks[i] + (i === this.chosen ? " chosen" : ""));
          bar.look = looks[i];
        }
        if (bar.f !== f) {
          bar.group.style.setProperty("--f", f);
          bar.f = f;
        }
      }
      if (this.chosen >= 0 && this.saidOfChosen !== said[this.chosen]) {
        this.saidOfChosen = said[this.chosen];
        this.placeChosen();
      }
      for (const letter of this.values) {
        if (!letter.shown || letter.said === said[letter.member]) continue;
        this.say(letter, said[letter.member]);
      }
    }

    say(letter, text) {
      letter.said = text;
      const [first, rest] = text.length > 1 && text[1] === " " ? [text[0], text.slice(1)] : ["", text];
      const kind = { T: "t", C: "c" }[first] || (text === "0" ? "z" : "");
      letter.group.setAttribute("class", ("value " + kind).trim());
      letter.text.textContent = rest;
      if (first) {
        const bold = stillbar.make("tspan", { class: "letter" });
        bold.textContent = first;
        letter.text.insertBefore(bold, letter.text.firstChild);
      }
      if (!letter.gap) return;
      const width = text === "0" ? 14 : text ? LETTER * text.length + 4 : 0;
      letter.gap.setAttribute("x", -width / 2);
      letter.gap.setAttribute("width", width);
    }

    /* The nearest member within reach of a point in the drawing's pixels, or -1. */
    nearest(x, y, reach) {
      let best = -1,
        least = reach;
      for (let i = 0; i < this.bars.length; i++) {
        const [a, b] = this.study.ends[i];
        const ax = this.sx[a],
          ay = this.sy[a],
          dx = this.sx[b] - ax,
          dy = this.sy[b] - ay,
          square = dx * dx + dy * dy;
        const t = square ? Math.min(0.97, Math.max(0.03, ((x - ax) * dx + (y - ay) * dy) / square)) : 0;
        const off = Math.hypot(x - ax - t * dx, y - ay - t * dy);
        if (off < least) {
          least = off;
          best = i;
        }
      }
      return best;
    }

    zoomAt(factor, x, y) {
      const before = this.view.zoom,
        zoom = Math.min(64, Math.max(this.least * 0.5, before * factor)),
        ratio = zoom / before;
      const top = this.frame.top;
      this.view = {
        zoom: zoom,
        x: x - ratio * (x - this.view.x),
        y: y - top - ratio * (y - top - this.view.y),
      };
      this.place();
    }

    /* A truss by itself, in the middle and as wide as `width` has room for, drawn larger than it was laid out
       at most so many times; names and supports at both ends need theirs however small it is. */
    fitAlone(width, largest) {
      const low = Math.min(...this.px),
        high = Math.max(...this.px),
        whole = Math.min(largest, (width - 2 * ENDS) / Math.max(high - low, 1)),
        truss = this.frame.height - this.frame.top - BELOW;
      this.least = whole;
      this.view = { zoom: whole, x: (width - whole * (low + high)) / 2, y: 0 };
      this.svg.setAttribute("width", width);
      this.svg.setAttribute("height", Math.round(this.frame.top + whole * truss + BELOW));
      this.place();
    }

    pan(dx, dy) {
      this.view = { zoom: this.view.zoom, x: this.view.x + dx, y: this.view.y + dy };
      this.place();
    }
  }

  stillbar.Drawing = Drawing;
})();
