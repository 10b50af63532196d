/* Opening a study, on every page: the wish, its progress, its faults; the ground; and the page's beginning.

   A page says what it does of its own in stillbar.page: wanted() reads the address, changed(event) and
   clicked(event) hear what this file has no use for, begun() comes first. */
(function () {
  "use strict";

  const stillbar = (window.stillbar = window.stillbar || {});
  const byId = (id) => document.getElementById(id);
  const set = (id, data) => window.dash_clientside.set_props(id, { data: data });
  const MOST = 8e6,
    KEPT = 4e6;

  /* Only what has changed is told: every telling asks the server for what hangs on it. */
  const told = {};
  stillbar.put = function (id, data) {
    const text = JSON.stringify(data);
    if (told[id] === text) return;
    told[id] = text;
    set(id, data);
  };

  /* ---- what arrives ---- */

  function showOpening(opening) {
    const done = window.dash_clientside.no_update;
    if (!opening) return done;
    const note = byId("opening-note"),
      faults = byId("faults");
    window.dash_clientside.set_props("poll", { disabled: Boolean(opening.ended) });
    if (!opening.ended) {
      const share = Math.round(100 * opening.share) + "\u00a0% ";
      tellProgress(note, "Working on " + opening.name + ": " + opening.what + ", " + share);
      return done;
    }
    note.textContent = "";
    faults.textContent = "";
    if (!opening.key) {
      showFaults(faults, opening);
      return done;
    }
    stillbar.bundled = opening.bundled || "";
    stillbar.opened = { text: opening.text, name: opening.name };
    stillbar.keep(opening);
    set("study", {
      key: opening.key,
      text: opening.text,
      name: opening.name,
      units: stillbar.wish && stillbar.wish.units,
    });
    return done;
  }

  /* The button stays the same one: a press begun on it must end on it. */
  function tellProgress(note, told) {
    if (note.querySelector("button")) {
      note.firstChild.data = told;
      return;
    }
    const cancel = document.createElement("button");
    cancel.type = "button";
    cancel.textContent = "cancel";
    cancel.addEventListener("click", () => set("cancel-data", Date.now()));
    note.replaceChildren(told, cancel);
  }

  /* The old study stays; what is wrong with the new one is a list to work through. */
  function showFaults(place, opening) {
    const head = document.createElement("p"),
      list = document.createElement("ul"),
      close = document.createElement("button");
    head.textContent = opening.name + " was not opened" + (stillbar.stage ? "; the study shown stays." : ".");
    for (const [key, wrong, right] of opening.lines) {
      const item = document.createElement("li"),
        code = document.createElement("code");
      code.textContent = key + ":";
      if (key) item.append(code, " ");
      item.append(wrong + (right ? "; " + right : ""));
      list.append(item);
    }
    close.type = "button";
    close.textContent = "understood";
    close.addEventListener("click", () => {
      place.textContent = "";
    });
    place.append(head, list, close);
    place.scrollIntoView({ block: "nearest" });
  }

  /* ---- an own study stays with its tab when the page is loaded again ---- */

  stillbar.keep = function (opening) {
    try {
      if (opening.bundled || !opening.own || opening.text.length > KEPT)
        window.sessionStorage.removeItem("study");
      else window.sessionStorage.setItem("study", JSON.stringify({ text: opening.text, name: opening.name }));
    } catch (error) {
      /* a browser that keeps nothing: then a reload opens the first study again */
    }
    const own = byId("own-option"),
      select = byId("open-bundled");
    own.textContent = opening.bundled ? "" : opening.name;
    own.hidden = Boolean(opening.bundled);
    select.value = opening.bundled || "";
  };

  function kept() {
    try {
      return JSON.parse(window.sessionStorage.getItem("study"));
    } catch (error) {
      return null;
    }
  }

  function openText(file) {
    if (!file) return;
    if (file.size > MOST) {
      stillbar.refuse(file.name, "larger than 8 MB", "split the study");
      return;
    }
    file.text().then((text) => stillbar.setWish({ text: text, name: file.name, own: true, fresh: true }));
  }

  stillbar.refuse = function (name, wrong, right) {
    showOpening({
      ended: true,
      key: null,
      name: name,
      lines: [["", wrong, right]],
    });
  };

  /* ---- ground: paper or slate ---- */

  function ground() {
    const given = document.documentElement.dataset.ground;
    return given || (window.matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "paper");
  }
  stillbar.swapGround = function () {
    const next = ground() === "paper" ? "slate" : "paper";
    document.documentElement.dataset.ground = next;
    try {
      window.localStorage.setItem("ground", next);
    } catch (error) {
      /* then it lasts as long as the page */
    }
    byId("ground").textContent = ground() === "paper" ? "dark" : "light";
  };

  function changed(event) {
    const node = event.target;
    if (node.id === "open-bundled" && node.value) stillbar.setWish({ bundled: node.value, fresh: true });
    else if (node.id === "open-file") {
      openText(node.files[0]);
      node.value = "";
    } else stillbar.page.changed(event);
  }

  stillbar.setWish = function (wish) {
    stillbar.wish = wish;
    set("wish", Object.assign({ asked: Date.now() }, wish));
  };

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_opening: { showOpening: showOpening },
  });

  function begin() {
    if (!byId("plate") || !window.dash_clientside.set_props) {
      setTimeout(begin, 15);
      return;
    }
    const input = document.createElement("input");
    Object.assign(input, { type: "file", id: "open-file", accept: ".toml" });
    byId("file-place").append(input);
    stillbar.attach();
    stillbar.page.begun();
    byId("ground").textContent = ground() === "paper" ? "dark" : "light";
    document.addEventListener("change", changed);
    document.addEventListener("click", (event) => stillbar.page.clicked(event));
    document.addEventListener("dragover", (event) => event.preventDefault());
    document.addEventListener("drop", (event) => {
      event.preventDefault();
      openText(event.dataTransfer.files[0]);
    });
    for (const link of document.querySelectorAll("header nav a"))
      link.addEventListener("click", () => (link.search = window.location.search));
    const wish = stillbar.page.wanted(),
      own = kept();
    if (stillbar.page.begins && stillbar.page.begins(wish)) return;
    if (wish.study) stillbar.setWish(Object.assign({ bundled: wish.study }, wish));
    else if (own) stillbar.setWish(Object.assign({ text: own.text, name: own.name, own: true }, wish));
    else stillbar.setWish(Object.assign({ start: true }, wish));
  }

  try {
    const kept = window.localStorage.getItem("ground");
    if (kept) document.documentElement.dataset.ground = kept;
  } catch (error) {
    /* the system's choice holds */
  }
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
