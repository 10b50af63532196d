/* The track: follows the drawing's horizontal axis, carries the handle, and tells where the train is dragged. */
(function () {
  "use strict";

  const stillbar = window.stillbar;

  class Track {
    constructor(svg) {
      this.svg = svg;
      this.left = +svg.dataset.left;
      this.scale = +svg.dataset.scale;
      this.ruler = +svg.dataset.ruler;
      this.lanes = Object.fromEntries(
        svg.dataset.lanes.split(" ").map((lane) => {
          const [way, y] = lane.split(":");
          return [way, +y];
        }),
      );
      this.along = [...svg.querySelectorAll(".along")];
      this.hung = [...svg.querySelectorAll("[data-x]")].map((group) => ({
        group: group,
        x: +group.dataset.x,
        from: +(group.dataset.from || 0),
        y: +/,(-?[\d.]+)\)/.exec(group.getAttribute("transform"))[1],
      }));
      this.lines = [...svg.querySelectorAll(".road")];
      this.makeHandle();
      this.follow({ zoom: 1, x: 0 }, +svg.getAttribute("width"));
    }

    makeHandle() {
      this.handle = stillbar.make("g", { class: "handle" }, this.svg);
      this.stem = stillbar.make("line", { class: "stem" }, this.handle);
      this.marks = stillbar.make("g", { class: "strips" }, this.handle);
      this.dots = stillbar.make("g", {}, this.handle);
      this.grip = stillbar.make(
        "g",
        { class: "grip", role: "slider", tabindex: "0", "aria-label": "Front of the train along the chord" },
        this.handle,
      );
      this.gripBack = stillbar.make("rect", { y: -10.5, height: 21, rx: 2 }, this.grip);
      this.gripText = stillbar.make("text", { y: 4, "text-anchor": "middle" }, this.grip);
      this.chevrons = stillbar.make("path", { class: "chevron" }, this.grip);
    }

    /* Take over the zoom and place of the drawing (or of the whole truss on a narrow page). */
    follow(view, width) {
      this.view = view;
      for (const group of this.along)
        group.setAttribute("transform", "matrix(" + view.zoom + ",0,0,1," + view.x + ",0)");
      for (const item of this.hung) {
        stillbar.hang(item.group, view.zoom * item.x + view.x, item.y);
        item.group.classList.toggle("off", view.zoom * 1.0001 < item.from || this.meetsWay(item, width));
      }
      for (const line of this.lines) line.setAttribute("x2", width);
      for (const text of this.svg.querySelectorAll(".way text[text-anchor=end]"))
        text.setAttribute("x", width);
      this.svg.setAttribute("width", width);
      for (const peak of this.svg.querySelectorAll(".peak")) this.turnWords(peak, width);
    }

    /* The words of a zero stretch give way to the name of their lane. */
    meetsWay(item, width) {
      const words = item.group.querySelector(".word"),
        lane = words && item.group.closest(".lane");
      if (!lane) return false;
      const x = this.view.zoom * item.x + this.view.x,
        half = 3.5 * words.textContent.length;
      const name = 7 * lane.querySelector(".way text").textContent.length + 10;
      return lane.dataset.way === "forward" ? x - half < name : x + half > width - name;
    }

    /* The words of a peak stand on the side on which there is room. */
    turnWords(peak, width) {
      const words = peak.querySelector("text"),
        x = this.view.zoom * +peak.dataset.x + this.view.x;
      const left = x + 7 * words.textContent.length + 14 > width;
      words.setAttribute("x", left ? -9 : 9);
      words.setAttribute("text-anchor", left ? "end" : "start");
    }

    x(position) {
      return this.view.zoom * (this.left + this.scale * position) + this.view.x;
    }
    position(x) {
      return ((x - this.view.x) / this.view.zoom - this.left) / this.scale;
    }

    describe(facts) {
      for (const [name, value] of Object.entries(facts)) this.grip.setAttribute(name, value);
    }

    /* Put the handle: text on its tag, wheels as positions, strips from one position to another, as far as
       the track reaches. Its stem stops short of the words over the track. */
    put(train, text, axles, strips) {
      const y = this.lanes[train.way],
        x = this.x(train.position);
      for (const lane of this.svg.querySelectorAll(".lane"))
        lane.classList.toggle("on", lane.dataset.way === train.way);
      for (const [name, value] of Object.entries({ x1: x, x2: x, y1: 0, y2: y }))
        this.stem.setAttribute(name, value);
      while (this.dots.childNodes.length < axles.length) stillbar.make("circle", { r: 3.2 }, this.dots);
      while (this.dots.childNodes.length > axles.length) this.dots.removeChild(this.dots.lastChild);
      axles.forEach((axle, i) => {
        const dot = this.dots.childNodes[i];
        dot.setAttribute("cx", this.x(axle));
        dot.setAttribute("cy", y);
      });
      while (this.marks.childNodes.length < strips.length) stillbar.make("line", {}, this.marks);
      while (this.marks.childNodes.length > strips.length) this.marks.removeChild(this.marks.lastChild);
      strips.forEach(([from, to], i) => {
        const ends = [this.x(from), this.x(to)];
        for (const [name, value] of Object.entries({ x1: ends[0], x2: ends[1], y1: y, y2: y }))
          this.marks.childNodes[i].setAttribute(name, value);
      });
      const width = 7 * text.length + 30,
        half = width / 2;
      this.gripText.textContent = text;
      this.gripBack.setAttribute("x", -half);
      this.gripBack.setAttribute("width", width);
      this.chevrons.setAttribute("d", "M" + (9 - half) + " -4l-4 4 4 4M" + (half - 9) + " -4l4 4 -4 4");
      const wide = +this.svg.getAttribute("width");
      stillbar.hang(this.grip, Math.min(wide - half, Math.max(half, x)), this.ruler + 13);
    }

    /* Which lane a height belongs to: the nearer one. */
    wayAt(y) {
      let best = "",
        least = Infinity;
      for (const [way, line] of Object.entries(this.lanes)) {
        const off = Math.abs(y - line);
        if (off < least) {
          least = off;
          best = way;
        }
      }
      return best;
    }
  }

  stillbar.Track = Track;
})();
