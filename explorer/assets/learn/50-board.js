/* The board: the drawing of a lesson, and what is known of each member at the step where the reader is. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const PLATE = 1360,
    BELOW = 70,
    ENDS = 40;
  const byId = (id) => document.getElementById(id);

  class Board {
    constructor(data) {
      this.study = data;
      this.state = {
        under: data.opening,
        member: data.order[0],
        way: "walk",
        step: 0,
        own: null,
        second: false,
      };
      this.marked = new Set();
      this.judged = null;
      this.lesson = null;
      byId("plate").innerHTML = data.plate;
      this.take(byId("plate").querySelector("svg"));
      this.chooseTrain();
    }

    take(svg) {
      this.drawing = new stillbar.Drawing(svg, this.study);
      this.rings = [...svg.querySelectorAll(".joints > *")];
      this.ring = stillbar.make(
        "circle",
        { class: "deciding off", r: 9 },
        svg.querySelector(".capsule-place"),
      );
      this.also = [];
      this.drawing.choose(-1);
      this.fit();
    }

    /* ---- what the hands on the drawing ask for ---- */

    crossing() {
      return null;
    }
    followTrack() {}
    gather() {}

    /* The keys step from member to member; pointing at one marks it, or leads to its step. */
    choose(member) {
      if (member < 0) return;
      this.state.member = member;
      this.stepping = true;
      if (this.state.way === "walk") stillbar.pointAt(member);
      else if (this.state.way === "predict") stillbar.speak(this.study.members[member]);
      this.paint();
    }
    pick(member) {
      this.state.member = member;
      this.stepping = false;
      if (this.state.way === "predict") stillbar.mark(member);
      else this.choose(member);
    }

    hint(member) {
      const said = this.shown && this.shown.said[member];
      return this.study.members[member] + (said ? "  " + said : "");
    }

    fit() {
      const drawing = this.drawing,
        frame = drawing.frame,
        width = byId("stage").clientWidth || PLATE,
        low = Math.min(...drawing.px),
        high = Math.max(...drawing.px),
        /* Names and supports at both ends need their room however small the truss is. */
        whole = Math.min(width / PLATE, (width - 2 * ENDS) / Math.max(high - low, 1)),
        truss = frame.height - frame.top - BELOW;
      this.width = width;
      drawing.least = whole;
      drawing.view = { zoom: whole, x: (width - whole * (low + high)) / 2, y: 0 };
      drawing.svg.setAttribute("width", width);
      drawing.svg.setAttribute("height", Math.round(frame.top + whole * truss + BELOW));
      drawing.place();
    }

    /* ---- the load chosen, and where its train stands ---- */

    load() {
      return this.study.unders[this.state.under];
    }
    chooseTrain(wanted) {
      const crossing = this.study.crossings[this.load().crossing];
      if (!crossing) {
        this.state.place = null;
        return;
      }
      const given = wanted || {},
        way = crossing.ways.includes(given.way) ? given.way : crossing.ways[0],
        [low, high] = crossing.reach[way];
      const position = Number.isFinite(given.position)
        ? given.position
        : Math.round(10 * (low + 0.588 * (high - low))) / 10;
      this.state.place = { way: way, position: Math.min(high, Math.max(low, position)) };
    }
    units() {
      return this.state.units || this.study.units;
    }
    force() {
      return this.study.systems[this.units()].force;
    }

    /* ---- what is seen ---- */

    setLoads(markup) {
      this.drawing.svg.querySelector(".load-place").innerHTML = markup;
      this.drawing.rehang();
      this.drawing.place();
    }

    step() {
      return this.lesson ? this.lesson.steps[Math.min(this.state.step, this.lesson.steps.length - 1)] : null;
    }

    paint() {
      if (!this.lesson) return;
      this.shown = this.look();
      /* First what is chosen: a value that its tag has hidden so far is then written anew. */
      this.placeDeciding();
      this.drawing.paint(this.shown.looks, this.shown.parts, this.shown.said);
      this.drawing.reactions.forEach((reaction) => reaction.group.classList.add("off"));
    }

    /* Looks, widths and words of all members, by the way to work. */
    look() {
      const count = this.study.members.length,
        lesson = this.lesson;
      const plain = {
        looks: Array(count).fill("plain"),
        parts: Array(count).fill(0),
        said: Array(count).fill(""),
      };
      const ended = this.state.way === "walk" && this.step().kind === "end";
      if (this.state.way === "loads" || this.state.way === "hand" || ended) return lesson;
      if (this.state.way === "walk") {
        lesson.steps.slice(0, this.state.step + 1).forEach((step) =>
          step.members.forEach((m) => {
            plain.looks[m] = "z";
            plain.said[m] = "0";
          }),
        );
        return plain;
      }
      if (this.state.way === "predict") this.lookJudged(plain);
      return plain;
    }

    lookJudged(plain) {
      const judged = this.judged;
      for (const m of this.marked) {
        plain.looks[m] = this.state.second ? "ink" : "z";
        plain.said[m] = this.state.second ? "moves?" : "0?";
      }
      if (!judged) return;
      for (const m of judged.right) plain.said[m] = judged.second ? "moves" : "0";
      for (const m of judged.missed) {
        plain.looks[m] = "missed";
        plain.said[m] = judged.second ? "moves: missed" : "0 missed";
      }
      for (const m of judged.wrong) {
        plain.looks[m] = judged.second ? "plain" : this.lesson.looks[m];
        plain.parts[m] = judged.second ? 0 : this.lesson.parts[m];
        plain.said[m] = judged.second ? "stands" : this.lesson.said[m];
      }
    }

    /* The joint, the part or the movement of a step stands out; its members carry their names. */
    placeDeciding() {
      const step = this.state.way === "walk" ? this.step() : null,
        drawing = this.drawing;
      const joint = step ? step.joint : -1,
        part = new Set(step ? step.part : []);
      this.ring.classList.toggle("off", joint < 0);
      if (joint >= 0) stillbar.hang(this.ring, drawing.sx[joint], drawing.sy[joint]);
      this.rings.forEach((ring, j) => ring.classList.toggle("in-part", part.has(j)));
      const chosen = step ? (step.members.length ? step.members[0] : -1) : this.chosen();
      if (drawing.chosen !== chosen) drawing.choose(chosen);
      this.also.forEach((capsule) => capsule.remove());
      this.also = (step ? step.members.slice(1) : []).map((member) => {
        const under = drawing.svg.querySelector(".capsule-place"),
          capsule = stillbar.make("rect", { class: "capsule", y: -9, height: 18, rx: 9 }, under);
        drawing.capsuleAlong(capsule, member);
        return capsule;
      });
    }

    chosen() {
      return this.state.way === "predict" && this.stepping ? this.state.member : -1;
    }
  }

  stillbar.Board = Board;
})();
