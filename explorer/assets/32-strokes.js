/* A drawing whose bars carry strokes across them: of each member the shares of its length at which they lie. */
(function () {
  "use strict";

  const stillbar = window.stillbar;

  stillbar.Stroked = class extends stillbar.Drawing {
    placeBars() {
      super.placeBars();
      this.strokes = this.strokes || this.makeStrokes();
      for (const { line, share, member } of this.strokes) {
        const inside = Number(this.bars[member].lines[0].getAttribute("x2")),
          x = (share * inside).toFixed(2);
        line.setAttribute("x1", x);
        line.setAttribute("x2", x);
      }
    }

    makeStrokes() {
      const half = this.study.half;
      return this.study.strokes.flatMap((shares, member) =>
        shares.map((share) => ({
          line: stillbar.make("line", { class: "stroke", y1: -half, y2: half }, this.bars[member].group),
          share: share,
          member: member,
        })),
      );
    }
  };
})();
