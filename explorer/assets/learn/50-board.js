/* The board: the drawing of a lesson, and what is known of each member at the step where the reader is. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const PLATE = 1360;
  const byId = (id) => document.getElementById(id);
  const FIRST_SIGNS = { marked: ["0?", "0?"], right: ["0", "0, found"], missed: ["0!", "0, missed"] },
    SECOND_SIGNS = {
      marked: ["M?", "mechanism?"],
      right: ["M", "mechanism, found"],
      missed: ["M!", "mechanism, missed"],
      wrong: ["no M", "no mechanism"],
    };

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
      this.pointed = -1;
      this.forgetRounds();
      this.lesson = null;
      byId("plate").innerHTML = data.plate;
      this.take(byId("plate").querySelector("svg"));
      this.chooseTrain();
    }

    take(svg) {
      this.drawing = new stillbar.Drawing(svg, this.study);
      this.deciding = new stillbar.Deciding(this.drawing);
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
      const shown = this.shown,
        said = shown && ((shown.words && shown.words[member]) || shown.said[member]);
      return this.study.members[member] + (said ? "  " + said : "");
    }

    fit() {
      this.width = byId("stage").clientWidth || PLATE;
      this.drawing.fitAlone(this.width, this.width / PLATE);
    }

    /* ---- predictions: a round each for what is zero and for what moves, with marks of its own ---- */

    forgetRounds() {
      this.rounds = [0, 1].map(() => ({ marked: new Set(), judged: null, asked: null }));
    }
    forgetVerdicts() {
      for (const round of this.rounds) round.judged = round.asked = null;
    }
    round() {
      return this.rounds[Number(this.state.second)];
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
      const place = this.drawing.svg.querySelector(".load-place");
      place.innerHTML = markup;
      for (const group of place.querySelectorAll(".load:not(:has(.reach))")) {
        const [tail, tip] = stillbar.arrowEnds(group),
          ends = { x1: tail[0], y1: tail[1], x2: tip[0], y2: tip[1] };
        stillbar.make("line", Object.assign({ class: "reach" }, ends), group);
      }
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

    /* Signs no longer than the room that every value has; what each means stands beside the verdict and at the pointer. */
    lookJudged(plain) {
      const second = this.state.second,
        signs = second ? SECOND_SIGNS : FIRST_SIGNS,
        { marked, judged } = this.round();
      plain.words = Array(plain.said.length).fill("");
      const put = (m, kind, look, part) => {
        plain.looks[m] = look;
        plain.parts[m] = part;
        [plain.said[m], plain.words[m]] = signs[kind];
      };
      for (const m of marked) put(m, "marked", second ? "ink" : "z", 1);
      if (!judged) return;
      for (const m of judged.right) put(m, "right", second ? "ink" : "z", 1);
      for (const m of judged.missed) put(m, "missed", second ? "missed" : "z missed", 0);
      for (const m of judged.wrong) {
        if (second) put(m, "wrong", "ink", 1);
        else {
          [plain.looks[m], plain.parts[m]] = [this.lesson.looks[m], this.lesson.parts[m]];
          plain.said[m] = plain.words[m] = this.lesson.said[m];
        }
      }
    }

    placeDeciding() {
      const step = this.state.way === "walk" ? this.step() : null,
        chosen = step ? (step.members.length ? step.members[0] : -1) : this.chosen();
      this.deciding.show(step, chosen, step ? this.pointed : -1);
    }

    chosen() {
      return this.state.way === "predict" && this.stepping ? this.state.member : -1;
    }
  }

  stillbar.Board = Board;
})();
