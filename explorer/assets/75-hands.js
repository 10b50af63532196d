/* Hands on the drawing: pointer, wheel, keys; and the commands that buttons name. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);
  const REACH = 12;

  const stage = () => stillbar.stage;

  /* ---- the drawing ---- */

  const pointers = new Map();

  function inside(event) {
    const box = stage().drawing.svg.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  function plateDown(event) {
    if (!stage()) return;
    if (event.target.closest(".train") && stage().track) {
      stillbar.takeTrain(event);
      return;
    }
    pointers.set(event.pointerId, { x: event.clientX, y: event.clientY, moved: 0 });
    if (pointers.size === 1) {
      addEventListener("pointermove", plateMove);
      addEventListener("pointerup", plateUp);
      addEventListener("pointercancel", plateUp);
    }
  }

  function plateMove(event) {
    const known = pointers.get(event.pointerId);
    if (!known) return;
    const dx = event.clientX - known.x,
      dy = event.clientY - known.y,
      others = [...pointers.entries()].filter(([id]) => id !== event.pointerId);
    if (others.length) {
      const other = others[0][1],
        before = Math.hypot(known.x - other.x, known.y - other.y),
        now = Math.hypot(event.clientX - other.x, event.clientY - other.y);
      const box = stage().drawing.svg.getBoundingClientRect();
      if (before > 10)
        stage().drawing.zoomAt(
          now / before,
          (event.clientX + other.x) / 2 - box.left,
          (event.clientY + other.y) / 2 - box.top,
        );
    } else if (known.moved + Math.hypot(dx, dy) > 4) {
      if (stage().study.dimension === 3 && !event.shiftKey && event.buttons !== 4)
        stillbar.turn(-0.4 * dx, 0.3 * dy);
      else stage().drawing.pan(dx, dy);
    }
    known.moved += Math.hypot(dx, dy);
    if (known.moved > 4) {
      known.x = event.clientX;
      known.y = event.clientY;
      settle();
    }
  }

  function plateUp(event) {
    const known = pointers.get(event.pointerId);
    pointers.delete(event.pointerId);
    if (!pointers.size) {
      removeEventListener("pointermove", plateMove);
      removeEventListener("pointerup", plateUp);
      removeEventListener("pointercancel", plateUp);
    }
    if (known && known.moved <= 4 && event.type === "pointerup") {
      const member = stage().drawing.nearest(...inside(event), REACH);
      if (member >= 0) stage().pick(member);
      byId("plate").focus({ preventScroll: true });
    }
    stillbar.turned();
  }

  function settle() {
    stage().followTrack();
    stage().paint();
  }

  function hover(event) {
    if (!stage() || event.pointerType === "touch" || pointers.size) return;
    const [x, y] = inside(event),
      member = stage().drawing.nearest(x, y, REACH),
      note = byId("hover-note");
    stage().drawing.point(member);
    note.hidden = member < 0;
    byId("plate").classList.toggle("over", member >= 0);
    if (member < 0) return;
    note.textContent = stage().hint(member);
    note.style.left = Math.min(stage().width - 120, x + 14) + "px";
    note.style.top = y - 30 + "px";
  }

  function wheel(event) {
    if (!stage() || !(event.ctrlKey || event.metaKey || document.activeElement === byId("plate"))) return;
    event.preventDefault();
    stage().drawing.zoomAt(Math.exp(-0.0016 * event.deltaY), ...inside(event));
    settle();
  }

  function zoom(factor) {
    stage().drawing.zoomAt(factor, stage().width / 2, stage().drawing.svg.clientHeight / 2);
    settle();
  }
  function whole() {
    stage().fit();
    stage().gather();
    stage().paint();
  }

  /* The nearest member whose middle lies up or down from the chosen one. */
  function vertical(sign) {
    const d = stage().drawing,
      ends = stage().study.ends,
      middle = (i) => [(d.px[ends[i][0]] + d.px[ends[i][1]]) / 2, (d.py[ends[i][0]] + d.py[ends[i][1]]) / 2];
    const [x, y] = middle(stage().state.member);
    let best = -1,
      least = Infinity;
    for (let i = 0; i < ends.length; i++) {
      const [mx, my] = middle(i),
        up = sign * (y - my),
        off = up + 2 * Math.abs(mx - x);
      if (up > 1 && off < least) {
        least = off;
        best = i;
      }
    }
    return best;
  }

  function plateKey(event) {
    if (!stage() || event.target.closest("button")) return;
    const order = stage().study.order,
      place = order.indexOf(stage().state.member),
      last = order.length - 1;
    const to = {
      ArrowRight: order[Math.min(last, place + 1)],
      ArrowLeft: order[Math.max(0, place - 1)],
      Home: order[0],
      End: order[last],
    }[event.key];
    if (to !== undefined) stage().choose(to);
    else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
      const next = vertical(event.key === "ArrowUp" ? 1 : -1);
      if (next >= 0) stage().choose(next);
    } else if (event.key === "+" || event.key === "=") zoom(1.4);
    else if (event.key === "-") zoom(1 / 1.4);
    else if (event.key === "0") whole();
    else if ((event.key === "," || event.key === ".") && stage().study.dimension === 3) {
      stillbar.turn(event.key === "," ? -15 : 15, 0);
      stillbar.turned();
    } else if (event.key === " " && stage().crossing()) stillbar.travel();
    else return;
    event.preventDefault();
  }

  /* ---- turning a space truss: at once here, lettered anew by the server when it comes to rest ---- */

  let turnedFrom = null;
  stillbar.turn = function (around, above) {
    const d = stage().drawing;
    turnedFrom = turnedFrom || Object.assign({}, d.seen);
    d.seen = {
      azimuth: d.seen.azimuth + around,
      elevation: Math.min(89, Math.max(-89, d.seen.elevation + above)),
    };
    d.turning = true;
    d.settle();
    stage().paint();
  };
  stillbar.turned = function () {
    if (!turnedFrom) return;
    turnedFrom = null;
    stillbar.tellView(stage().drawing.seen);
  };

  const COMMANDS = {
    closer: () => zoom(1.4),
    wider: () => zoom(1 / 1.4),
    whole: whole,
    "turn-left": () => {
      stillbar.turn(-15, 0);
      stillbar.turned();
    },
    "turn-right": () => {
      stillbar.turn(15, 0);
      stillbar.turned();
    },
    travel: () => stillbar.travel(),
    cross: () => stillbar.letCross(),
    move: () => stillbar.move(),
    lose: () => stillbar.lose(),
    "put-back": () => stillbar.putBack(),
    difference: () => stillbar.swapDifference(),
    print: () => window.print(),
    ground: () => stillbar.swapGround(),
  };

  stillbar.attach = function () {
    byId("plate").addEventListener("pointerdown", plateDown);
    byId("plate").addEventListener("pointermove", hover);
    byId("plate").addEventListener("pointerleave", () => {
      byId("hover-note").hidden = true;
      if (stage()) stage().drawing.point(-1);
    });
    byId("plate").addEventListener("wheel", wheel, { passive: false });
    byId("plate").addEventListener("keydown", plateKey);
    document.addEventListener("click", (event) => {
      const command = event.target.closest("[data-do]");
      if (command && COMMANDS[command.dataset.do]) COMMANDS[command.dataset.do]();
    });
    addEventListener("resize", () => {
      if (stage()) {
        stage().fit();
        stage().paint();
      }
    });
  };
})();
