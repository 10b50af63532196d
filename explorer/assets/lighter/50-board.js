/* The board: the truss with every member as thick as it is used; who holds idle has a stroke at its joint. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const PLATE = 1360,
    /* Narrower than this the chosen member's name stands under the drawing alone: a tag would cover letters. */
    NARROW = 720,
    /* There bars are this long, or so the drawing is this high: it goes on to the side. */
    BAR = 80,
    HIGH = 210;
  const byId = (id) => document.getElementById(id);

  /* Members that look idle carry strokes at the joints that they hold. */
  class Holding extends stillbar.Stroked {
    underTag(x, y) {
      return !this.tagless && super.underTag(x, y);
    }

    placeChosen() {
      super.placeChosen();
      if (this.tagless) this.tag.classList.add("off");
    }

    /* Which joints are held may change with the sections tried. */
    carry(strokes) {
      if (strokes === this.study.strokes && this.strokes) return;
      for (const { line } of this.strokes || []) line.remove();
      this.study.strokes = strokes;
      this.strokes = null;
      this.placeBars();
    }

    /* How wide the drawing must be for bars to be long enough to read, and the drawing high enough. */
    enough() {
      const bare = this.frame.height - this.frame.top,
        truss = Math.max(...this.py) - Math.min(...this.py),
        zoom = Math.max(BAR / this.usual, truss ? (HIGH - bare) / truss + 1 : 0);
      return zoom * (Math.max(...this.px) - Math.min(...this.px)) + 80;
    }
  }

  class Board extends stillbar.AloneBoard {
    constructor(data) {
      super();
      this.study = data;
      data.strokes = data.now.strokes;
      this.state = { member: data.order[0], units: "", drawn: "tried" };
      this.painted = { now: data.now, tried: data.now };
      this.show(data.plate);
    }

    show(plate) {
      this.draw(Holding, plate);
    }

    fit() {
      this.width = byId("stage").clientWidth || PLATE;
      this.drawing.tagless = this.width < NARROW;
      const turns = this.study.dimension === 3,
        wide = this.drawing.tagless && !turns ? Math.min(PLATE, this.drawing.enough()) : 0;
      this.drawing.fitAlone(Math.max(this.width, wide), Math.max(1, this.width / PLATE));
    }

    /* Where the drawing goes on to the side: bring the chosen member into sight. */
    reveal() {
      const [a, b] = this.study.ends[this.state.member],
        middle = (this.drawing.sx[a] + this.drawing.sx[b]) / 2;
      byId("plate").scrollLeft = middle - this.width / 2;
    }

    chosen() {
      this.reveal();
      stillbar.tellMember();
      stillbar.askTrial();
    }

    hint(member) {
      const now = this.painted.now,
        tried = this.painted.tried,
        told = (painted) => painted.said[member] + " " + painted.told[member],
        text = this.study.members[member] + "  " + told(now);
      return tried === now || told(tried) === told(now) ? text : text + ", as tried " + told(tried);
    }

    paint() {
      const painted = this.painted[this.state.drawn];
      this.drawing.carry(painted.strokes);
      this.drawing.choose(this.state.member);
      this.drawing.paint(painted.looks, painted.parts, painted.said);
    }
  }

  stillbar.LighterBoard = Board;
})();
