/* The board of a page that draws a truss by itself: what hands on the drawing ask for, without a train. */
(function () {
  "use strict";

  const stillbar = window.stillbar;

  /* Who extends it has `study`, `state`, `drawing` and `paint`, and tells of a member chosen in `chosen`. */
  stillbar.AloneBoard = class {
    /* Puts a drawing of some kind where the plate stands, seen as the one before it. */
    draw(Kind, plate) {
      const view = this.drawing && this.drawing.view,
        place = document.getElementById("plate");
      place.innerHTML = plate;
      this.drawing = new Kind(place.querySelector("svg"), this.study);
      this.fit();
      if (view) this.drawing.view = view;
      this.drawing.place();
      this.paint();
    }

    crossing() {
      return null;
    }
    followTrack() {}
    gather() {}

    choose(member) {
      if (!(member >= 0)) return;
      this.state.member = member;
      this.paint();
      this.chosen();
      stillbar.tellAddress();
    }
    pick(member) {
      this.choose(member);
    }

    units() {
      return this.state.units || this.study.units;
    }
  };
})();
