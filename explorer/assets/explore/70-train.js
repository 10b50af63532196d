/* The train in the reader's hand: dragged, stepped, sent to a peak, or travelling by itself. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const calm = () => window.matchMedia("(prefers-reduced-motion: reduce)").matches;
  const SECONDS = 14;
  let travelling = null;

  const stage = () => stillbar.stage;

  /* ---- the train ---- */

  function step(on) {
    const [low, high] = on.reach(),
      factor = on.study.systems[on.units()].length[1];
    const least = (high - low) / factor / 240,
      power = Math.pow(10, Math.floor(Math.log10(least)));
    return [1, 2, 5, 10].map((f) => f * power).find((s) => s >= least) * factor;
  }

  /* Round to whole steps, so that a place reached by hand has a round number. */
  stillbar.rounded = function (on, position) {
    const s = step(on);
    return Number((Math.round(position / s) * s).toPrecision(12));
  };
  const rounded = (position) => stillbar.rounded(stage(), position);

  function marks() {
    const on = stage(),
      arranged = on.arrangedNow(),
      way = (arranged ? arranged.ways : on.crossing().ways[on.state.train])[on.state.way];
    return [...way.breaks];
  }

  function nextMark(sign) {
    const here = stage().state.position,
      near = 1e-9 * (1 + Math.abs(here)),
      all = marks();
    const ahead = all.filter((p) => sign * (p - here) > near);
    return ahead.length ? (sign > 0 ? Math.min(...ahead) : Math.max(...ahead)) : here;
  }

  stillbar.stop = function () {
    if (!travelling) return;
    cancelAnimationFrame(travelling.frame);
    clearTimeout(travelling.timer);
    travelling = null;
    for (const button of document.querySelectorAll(".travel")) button.textContent = "let it travel";
  };

  stillbar.travel = function () {
    if (travelling) {
      stillbar.stop();
      return;
    }
    if (!stage() || !stage().crossing()) return;
    const forward = stage().state.way === "forward",
      [low, high] = stage().reach();
    const end = forward ? high : low,
      start = forward ? low : high;
    const from = Math.abs(stage().state.position - end) < 1e-9 ? start : stage().state.position;
    travelling = { frame: 0, timer: 0 };
    for (const button of document.querySelectorAll(".travel")) button.textContent = "stop here";
    if (calm()) {
      hop(forward ? 1 : -1, end);
      return;
    }
    const began = performance.now(),
      speed = (high - low) / SECONDS / 1000;
    const go = (time) => {
      if (!travelling) return;
      const gone = Math.max(0, time - began) * speed,
        position = forward ? Math.min(end, from + gone) : Math.max(end, from - gone);
      stage().ride(position);
      if (position === end) stillbar.stop();
      else travelling.frame = requestAnimationFrame(go);
    };
    travelling.frame = requestAnimationFrame(go);
  };

  /* For those who asked for less motion: break by break. */
  function hop(sign, end) {
    const go = () => {
      if (!travelling) return;
      stage().ride(nextMark(sign));
      if (stage().state.position === end) stillbar.stop();
      else travelling.timer = setTimeout(go, 700);
    };
    travelling.timer = setTimeout(go, 0);
  }

  /* Go to a peak: its load, train, way and place, with loads arranged as it needs them. */
  stillbar.jump = function (peak) {
    stillbar.stop();
    const on = stage(),
      state = on.state,
      given = peak.dataset;
    if (given.under !== undefined && +given.under !== state.under) on.take(+given.under);
    if (given.train !== undefined) state.train = +given.train;
    state.arranged = on.load().arranges ? +given.arranged || 0 : 0;
    on.sought = given.way ? { way: given.way, position: +given.position, force: +given.force } : null;
    if (on.sought) on.ride(on.sought.position, on.sought.way);
    on.settle();
    stillbar.tell();
    on.paint();
    byId("stage").scrollIntoView({ block: "nearest" });
  };

  /* ---- the track ---- */

  /* Call `ride` for every move of the hand until it lets go. */
  function whileHeld(event, ride) {
    const end = () => {
      removeEventListener("pointermove", ride);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
    };
    addEventListener("pointermove", ride);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
    event.preventDefault();
  }

  function trackPointer(event) {
    if (!stage() || !stage().track) return;
    const peak = event.target.closest(".peak");
    if (peak) {
      stillbar.jump(peak);
      return;
    }
    const named = event.target.closest(".way");
    if (named) {
      stage().ride(stage().state.position, named.dataset.way);
      return;
    }
    stillbar.stop();
    const box = stage().track.svg.getBoundingClientRect();
    const y = event.clientY - box.top,
      way = stage().track.wayAt(y);
    const grabbed = event.target.closest(".grip");
    const ride = (e) => {
      stage().ride(rounded(stage().track.position(e.clientX - box.left)), grabbed ? undefined : way);
      if (stage().overviewShown) stage().gather(stage().road(stage().state.position)[0]);
    };
    ride(event);
    stage().track.grip.focus({ preventScroll: true });
    whileHeld(event, ride);
  }

  function trackKey(event) {
    const peak = event.target.closest && event.target.closest(".peak");
    if (peak && (event.key === "Enter" || event.key === " ")) {
      stillbar.jump(peak);
      event.preventDefault();
      return;
    }
    if (!stage() || !stage().crossing() || event.target.closest("button")) return;
    const named = event.target.closest(".way");
    if (named && (event.key === "Enter" || event.key === " ")) {
      stage().ride(stage().state.position, named.dataset.way);
      event.preventDefault();
      return;
    }
    const sign = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key],
      [low, high] = stage().reach();
    const here = stage().state.position;
    if (sign) {
      stillbar.stop();
      stage().ride(event.shiftKey ? nextMark(sign) : rounded(here + sign * step(stage())));
    } else if (event.key === "PageUp" || event.key === "PageDown")
      stage().ride(rounded(here + (event.key === "PageUp" ? 10 : -10) * step(stage())));
    else if (event.key === "Home") stage().ride(low);
    else if (event.key === "End") stage().ride(high);
    else if (event.key === " ") stillbar.travel();
    else if (event.key === "r" || event.key === "R")
      stage().ride(here, stage().state.way === "forward" ? "backward" : "forward");
    else return;
    if (stage().overviewShown) stage().gather(stage().road(stage().state.position)[0]);
    event.preventDefault();
  }

  /* The train itself can be taken by its wheels; its road is as long as the drawing's. */
  function trainDown(event) {
    stillbar.stop();
    const drawing = stage().drawing,
      from = event.clientX,
      start = stage().state.position;
    const scale =
      stage().track.scale * (stage().study.dimension === 2 ? drawing.view.zoom : stage().track.view.zoom);
    const ride = (e) => stage().ride(rounded(start + (e.clientX - from) / scale));
    whileHeld(event, ride);
  }

  stillbar.takeTrain = trainDown;
  stillbar.attachTrack = function () {
    byId("track").addEventListener("pointerdown", trackPointer);
    byId("track").addEventListener("keydown", trackKey);
  };
})();
