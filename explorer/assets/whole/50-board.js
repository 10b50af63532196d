/* The board: the drawing of the whole truss, its members by what they are or by one state of self-stress. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const PLATE = 1360;
  const byId = (id) => document.getElementById(id);

  class Told extends stillbar.Stroked {
    /* Whoever points at a member hears of it. */
    point(member) {
      super.point(member);
      if (this.pointed) this.pointed(member);
    }
  }

  class Board {
    constructor(data) {
      this.study = data;
      this.state = { member: data.opening, units: "", drawn: -1 };
      this.told = null;
      this.stress = null;
      this.plates = data.plates;
      this.show();
    }

    /* ---- the drawing, lettered for what it shows ---- */

    show() {
      const view = this.drawing && this.drawing.view;
      byId("plate").innerHTML = this.plates[this.stress ? "state" : "kinds"];
      this.drawing = new Told(byId("plate").querySelector("svg"), this.study);
      this.drawing.pointed = (member) => stillbar.tellMember(member);
      this.fit();
      if (view) this.drawing.view = view;
      this.drawing.place();
      this.paint();
    }

    fit() {
      this.width = byId("stage").clientWidth || PLATE;
      this.drawing.fitAlone(this.width, Math.max(1, this.width / PLATE));
    }

    /* ---- what the hands on the drawing ask for ---- */

    crossing() {
      return null;
    }
    followTrack() {}
    gather() {}

    choose(member) {
      if (!(member >= 0)) return;
      this.state.member = member;
      this.paint();
      stillbar.tellMember(-1);
      stillbar.markRow();
      stillbar.tellAddress();
      stillbar.speakMember();
    }
    pick(member) {
      this.choose(member);
    }

    hint(member) {
      const said = this.stress ? this.stress.said[member] : this.study.letters[member],
        told = this.told && this.told[member];
      return this.study.members[member] + (said ? "  " + said : "") + (told ? "  " + told.kind : "");
    }

    units() {
      return this.state.units || this.study.units;
    }

    /* ---- what is seen ---- */

    paint() {
      const { kinds, letters } = this.study;
      this.drawing.choose(this.state.member);
      if (this.stress) this.drawing.paint(this.stress.looks, this.stress.parts, this.stress.said);
      else this.drawing.paint(kinds, Array(kinds.length).fill(0), letters);
    }
  }

  stillbar.WholeBoard = Board;
})();
