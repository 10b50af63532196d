/* The title: what became of what is tried, and then what was found; with nothing tried what was found. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);

  stillbar.tellTitle = function () {
    const { title, outcome, found, trying } = stillbar.stage,
      tried = Object.keys(trying.sections).length > 0 && outcome,
      head = byId("saving");
    /* What became of a trial is spoken by the line beside the selects already. */
    head.setAttribute("aria-live", tried ? "off" : "polite");
    /* Words that are the same are not written again: they would be spoken again. */
    if (head.textContent !== (tried || title)) head.textContent = tried || title;
    byId("found").textContent = tried && found ? title : "";
  };
})();
