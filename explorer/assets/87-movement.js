/* The movement of a mechanism: once, out and back, on asking; the picture as written shows its end. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const LASTS = 1800;

  const numbers = (text) => text.split(",").map(Number);

  function put(node, values) {
    const names = values.length === 4 ? ["x1", "y1", "x2", "y2"] : ["cx", "cy"];
    values.forEach((value, i) => node.setAttribute(names[i], value.toFixed(2)));
  }

  stillbar.move = function () {
    const nodes = [...document.querySelectorAll("#sheet .moving [data-from]")].map((node) => ({
      node: node,
      from: numbers(node.dataset.from),
      to: numbers(node.dataset.to),
    }));
    const at = (share) =>
      nodes.forEach((n) =>
        put(
          n.node,
          n.from.map((a, i) => a + share * (n.to[i] - a)),
        ),
      );
    if (!nodes.length) return;
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) {
      at(0);
      setTimeout(() => at(1), 700);
      return;
    }
    const began = performance.now();
    const go = (time) => {
      const share = Math.min(1, (time - began) / LASTS);
      /* From rest to the end and back, then to the end again, where the picture stays. */
      at(share < 1 ? 0.5 - 0.5 * Math.cos(3 * Math.PI * share) : 1);
      if (share < 1) requestAnimationFrame(go);
    };
    requestAnimationFrame(go);
  };
})();
