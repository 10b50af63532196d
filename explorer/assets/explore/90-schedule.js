/* The schedule of members: bars in its cells, filters in words, selection linked both ways, CSV. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const GRID = "schedule-grid";
  const FILTERS = [
    ["often", "zero in more than 80\u00a0% of load cases"],
    ["reverses", "reverses"],
    ["still", "still"],
  ];
  const OUTCOMES = ["unpropped", "falls", "tips", "loose", "overload", "carried", "stands"];
  let data = null,
    outcome = "",
    over = "here",
    chosen = new Set();

  /* ---- cells ---- */

  const cells = (window.dashAgGridComponentFunctions = window.dashAgGridComponentFunctions || {});
  const make = (tag, props, ...children) => window.React.createElement(tag, props, ...children);

  cells.ZeroShare = function (props) {
    const share = props.data.zero,
      line = make("line", { className: "hairline", x1: 0, x2: 44, y1: 6, y2: 6 });
    const bar = share
      ? make("rect", { className: "band", x: 0, y: 3, width: Math.max(1, 44 * share), height: 6 })
      : null;
    return make(
      "span",
      { className: "share-cell" },
      make(
        "svg",
        { viewBox: "0 0 44 12", preserveAspectRatio: "none", height: 12, "aria-hidden": true },
        line,
        bar,
      ),
      make("span", null, props.data.zeroTold),
    );
  };

  cells.Peaks = function (props) {
    const { tension, compression, most } = props.data,
      half = 32,
      scale = most ? half / most : 0,
      parts = [];
    parts.push(make("line", { key: 1, className: "hairline", x1: 0, x2: 2 * half, y1: 7, y2: 7 }));
    if (compression)
      parts.push(
        make("rect", {
          key: 2,
          className: "peak-bar c",
          x: half - compression * scale,
          y: 2.5,
          width: compression * scale,
          height: 9,
        }),
      );
    if (tension)
      parts.push(
        make("rect", { key: 3, className: "peak-bar t", x: half, y: 2.5, width: tension * scale, height: 9 }),
      );
    parts.push(make("line", { key: 4, className: "middle", x1: half, x2: half, y1: 1, y2: 13 }));
    return make(
      "span",
      { className: "peaks-cell" },
      make("span", { className: "c" }, compression ? stillbar.brief(compression) : "–"),
      make(
        "svg",
        { viewBox: "0 0 64 14", preserveAspectRatio: "none", height: 14, "aria-hidden": true },
        parts,
      ),
      make("span", { className: "t" }, tension ? stillbar.brief(tension) : "–"),
    );
  };

  /* ---- rows ---- */

  const api = () => {
    try {
      return window.dash_ag_grid.getApi(GRID);
    } catch (error) {
      return null;
    }
  };

  function fill() {
    const grid = api();
    if (!grid || !data) return;
    const most = Math.max(
      1e-12,
      ...data.rows.map((row) => Math.max(row[over].tension, row[over].compression)),
    );
    const rows = data.rows
      .filter((row) => [...chosen].every((name) => row[name]) && (!outcome || row.outcome === outcome))
      .map((row) =>
        Object.assign(
          {
            index: row.index,
            member: row.member,
            group: row.group,
            without: row.without,
            whole: row.whole,
            most: most,
            peak: Math.max(row[over].tension, row[over].compression),
          },
          row[over],
        ),
      );
    grid.setColumnsVisible(["group"], window.innerWidth > 720);
    grid.setGridOption("rowData", rows);
    byId("schedule-count").textContent =
      rows.length === data.rows.length ? String(rows.length) : rows.length + " of " + data.rows.length;
    byId("schedule-under").textContent =
      (over === "here" ? "under " + data.load : "over all loads") + ", " + data.unit;
    byId("schedule-swap").textContent = over === "here" ? "over all loads" : "under this load";
    byId("schedule-note").textContent =
      over === "here"
        ? "Zero share and peaks under the load chosen."
        : "Zero share: mean over the load cases, each alone. Peaks: over the combinations.";
    show(grid);
    stillbar.arrive("schedule");
  }

  function show(grid) {
    if (!stillbar.stage) return;
    const name = stillbar.stage.study.members[stillbar.stage.state.member],
      node = grid.getRowNode(name);
    if (!node) {
      grid.deselectAll();
      return;
    }
    if (!node.isSelected()) node.setSelected(true, true);
    grid.ensureNodeVisible(node);
  }

  stillbar.showRow = () => api() && data && show(api());

  function listen(grid) {
    if (grid.stillbar) return;
    grid.stillbar = true;
    const take = (node) => {
      if (node && node.data && stillbar.stage && stillbar.stage.state.member !== node.data.index)
        stillbar.stage.choose(node.data.index);
    };
    grid.addEventListener("rowSelected", (event) => {
      if (event.node.isSelected() && event.source !== "api") take(event.node);
    });
    grid.addEventListener("cellFocused", (event) => {
      if (event.rowIndex !== null && event.rowIndex !== undefined) {
        const node = grid.getDisplayedRowAtIndex(event.rowIndex);
        if (node) {
          node.setSelected(true, true);
          take(node);
        }
      }
    });
  }

  /* One outcome of losses, or any. */
  function chooseOutcome() {
    const line = document.createElement("label"),
      select = document.createElement("select");
    select.add(new Option("anything", ""));
    for (const word of OUTCOMES) select.add(new Option(word, word));
    select.id = "outcome";
    select.addEventListener("change", () => {
      outcome = select.value;
      fill();
    });
    line.append("without it ", select);
    return line;
  }

  function drawFilters() {
    const place = byId("filters");
    if (place.firstChild) return;
    const box = (text, checked, act) => {
      const line = document.createElement("label"),
        input = document.createElement("input"),
        words = document.createElement("span");
      input.type = "checkbox";
      input.checked = checked;
      input.addEventListener("change", () => {
        act(input.checked);
        fill();
      });
      words.textContent = text;
      line.append(input, words);
      place.append(line);
    };
    for (const [name, text] of FILTERS)
      box(text, false, (on) => {
        if (on) chosen.add(name);
        else chosen.delete(name);
      });
    place.append(chooseOutcome());
    const swap = byId("schedule-swap");
    swap.addEventListener("click", () => {
      over = over === "here" ? "everything" : "here";
      fill();
    });
    byId("schedule-csv").addEventListener("click", save);
  }

  function save() {
    const unit = data.unit,
      head = [
        "member",
        "group",
        "zero_share",
        "peak_tension_" + unit,
        "peak_compression_" + unit,
        "without_it",
      ];
    const quote = (text) => (/[",\n]/.test(text) ? '"' + text.replace(/"/g, '""') + '"' : String(text)),
      lines = [head.join(",")];
    api().forEachNodeAfterFilterAndSort((node) => {
      const d = node.data;
      lines.push(
        [d.member, d.group, d.zero, d.tension, d.compression, d.without]
          .map((v) => quote(String(v)))
          .join(","),
      );
    });
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([lines.join("\n") + "\n"], { type: "text/csv" }));
    link.download = "members.csv";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }

  /* On paper stand all rows, not those that the window happens to show. */
  addEventListener("beforeprint", () => api() && api().setGridOption("domLayout", "print"));
  addEventListener("afterprint", () => api() && api().setGridOption("domLayout", "normal"));

  let tries = 0;
  function showRows(rows) {
    if (!rows) return window.dash_clientside.no_update;
    data = rows;
    const grid = api();
    if (!grid) {
      if (tries++ < 400) setTimeout(() => showRows(rows), 25);
      return window.dash_clientside.no_update;
    }
    tries = 0;
    drawFilters();
    listen(grid);
    fill();
    return window.dash_clientside.no_update;
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    stillbar_schedule: { showRows: showRows },
  });
})();
