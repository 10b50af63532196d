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

  class Board extends stillbar.AloneBoard {
    constructor(data) {
      super();
      this.study = data;
      this.state = { member: data.opening, units: "", drawn: -1 };
      this.told = null;
      this.stress = null;
      this.plates = data.plates;
      this.show();
    }

    /* ---- the drawing, lettered for what it shows ---- */

    show() {
      this.draw(Told, this.plates[this.stress ? "state" : "kinds"]);
      this.drawing.pointed = (member) => stillbar.tellMember(member);
    }

    fit() {
      this.width = byId("stage").clientWidth || PLATE;
      this.drawing.fitAlone(this.width, Math.max(1, this.width / PLATE));
    }

    chosen() {
      stillbar.tellMember(-1);
      stillbar.markRow();
      stillbar.speakMember();
    }

    hint(member) {
      const said = this.stress ? this.stress.said[member] : this.study.letters[member],
        told = this.told && this.told[member];
      return this.study.members[member] + (said ? "  " + said : "") + (told ? "  " + told.kind : "");
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
