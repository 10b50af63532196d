/* On paper: pictures keep their proportions and take the width that a sheet has. */
(function () {
  "use strict";

  const pictures = () => [...document.querySelectorAll("#plate > svg, #track > svg")];

  addEventListener("beforeprint", () => {
    for (const svg of pictures()) {
      svg.dataset.screen = svg.getAttribute("width") + " " + svg.getAttribute("height");
      svg.setAttribute("viewBox", "0 0 " + svg.dataset.screen);
      svg.setAttribute("width", "100%");
      svg.removeAttribute("height");
    }
  });

  addEventListener("afterprint", () => {
    for (const svg of pictures()) {
      if (!svg.dataset.screen) continue;
      const [width, height] = svg.dataset.screen.split(" ");
      svg.removeAttribute("viewBox");
      svg.setAttribute("width", width);
      svg.setAttribute("height", height);
      delete svg.dataset.screen;
    }
  });
})();
