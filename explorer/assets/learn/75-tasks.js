/* Tasks: a number, a level and a form give one task; the line to paste and the sheet to print. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const LARGEST = 999999999,
    MOST = 40;

  const number = (id, least, most) => {
    const given = Math.round(Number(byId(id).value));
    return Math.min(most, Math.max(least, Number.isFinite(given) ? given : least));
  };

  /* What is used in place of a number that cannot be is written where it was typed, and said. */
  function settleNumber(id, least, most, what) {
    const used = String(number(id, least, most)),
      typed = byId(id).value;
    if (typed === used) return;
    byId(id).value = used;
    const whole = what + " is a whole number from " + least + " to " + most;
    byId("task-line").textContent = whole + ": " + used + " stands in its place.";
  }
  const chosen = () => ({
    seed: number("task-seed", 0, LARGEST),
    level: Number(byId("task-level").value),
    space: byId("task-form").value === "space",
  });

  /* As it stands in the address: 4711-2-plane. */
  stillbar.taskName = (task) => task.seed + "-" + task.level + "-" + (task.space ? "space" : "plane");
  stillbar.readTask = function (text) {
    const found = /^(\d{1,9})-([123])-(plane|space)$/.exec(text || "");
    return found ? { seed: Number(found[1]), level: Number(found[2]), space: found[3] === "space" } : null;
  };
  stillbar.pasteLine = function (task, judged) {
    const all = judged.right.length + judged.missed.length;
    return (
      "Stillbar task " +
      stillbar.taskName(task) +
      ": " +
      judged.right.length +
      " of " +
      all +
      " zeros found, " +
      judged.wrong.length +
      " marked that work"
    );
  };

  stillbar.askTask = function (task) {
    window.dash_clientside.set_props("task-asked", { data: Object.assign({ asked: Date.now() }, task) });
  };
  stillbar.anotherTask = function () {
    byId("task-seed").value = Math.floor(Math.random() * (LARGEST + 1));
    linkSheet();
    stillbar.askTask(chosen());
  };

  function linkSheet() {
    const task = chosen(),
      count = number("sheet-count", 1, MOST);
    byId("sheet-link").href =
      "/learn/sheet?" + new URLSearchParams({ task: stillbar.taskName(task), count: count });
  }

  stillbar.showTasks = function () {
    const board = stillbar.stage;
    byId("question").textContent =
      board && board.task
        ? "Task " + stillbar.taskName(board.task)
        : "Practise on a truss nobody has seen before";
    byId("where").textContent = board && board.task ? "Mark its zeros under “predict first”." : "";
    byId("task-line").textContent = "";
    linkSheet();
    if (board) board.paint();
  };

  stillbar.beginTasks = function (task) {
    const seed = document.createElement("input"),
      count = document.createElement("input");
    const first = task || { seed: Math.floor(Math.random() * 10000), level: 1, space: false };
    Object.assign(seed, { type: "number", id: "task-seed", min: 0, max: LARGEST, value: first.seed });
    Object.assign(count, { type: "number", id: "sheet-count", min: 1, max: MOST, value: 8 });
    byId("task-seed-place").append(seed);
    byId("sheet-count-place").append(count);
    byId("task-level").value = String(first.level);
    byId("task-form").value = first.space ? "space" : "plane";
    for (const id of ["task-seed", "sheet-count", "task-level", "task-form"])
      byId(id).addEventListener("input", () => {
        byId("task-line").textContent = "";
        linkSheet();
      });
    seed.addEventListener("change", () => settleNumber("task-seed", 0, LARGEST, "The number of a task"));
    count.addEventListener("change", () => settleNumber("sheet-count", 1, MOST, "The count of a sheet"));
    byId("set-task").addEventListener("click", () => stillbar.askTask(chosen()));
    byId("another-task").addEventListener("click", stillbar.anotherTask);
    linkSheet();
  };
})();
