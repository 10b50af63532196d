/* The stage: what is chosen, where the train stands, and what the drawing, the track and the words say of it. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const NARROW = 720,
    PLATE = 1360,
    BELOW = 70,
    LIFT = 32;
  const byId = (id) => document.getElementById(id);

  class Stage {
    constructor(packed, markup, wanted) {
      this.study = stillbar.unpack(packed);
      this.told = packed.sentences;
      byId("plate").innerHTML = markup.plate;
      byId("overview").innerHTML = markup.overview;
      this.drawing = new stillbar.Stroked(byId("plate").querySelector("svg"), this.study);
      this.small = [...byId("overview").querySelectorAll(".bar")];
      this.state = {
        under: 0,
        member: 0,
        train: 0,
        way: "forward",
        position: 0,
        side: 0,
        arranged: 0,
        beside: -1,
        measure: "force now",
      };
      this.arranged = null;
      this.track = null;
      this.fit();
      this.restore(wanted || {});
    }

    /* ---- what is chosen ---- */

    restore(wanted) {
      const study = this.study,
        under = study.unders.findIndex((u) => u.name === wanted.under);
      this.state.under = under >= 0 ? under : study.opening;
      const member = study.members.indexOf(wanted.member);
      this.state.member = member >= 0 ? member : packedMember(study);
      if (stillbar.measures().includes(wanted.measure)) this.state.measure = wanted.measure;
      this.state.arranged = this.load().arranges ? wanted.arranged || 0 : 0;
      this.startTrain(wanted);
      this.state.beside = study.unders.findIndex((u) => u.name === wanted.beside);
      this.missing = wanted.under && under < 0 ? wanted.under : "";
      this.raise();
      this.drawing.choose(this.state.member);
      this.gather();
    }

    startTrain(wanted) {
      const crossing = this.crossing();
      if (!crossing) return;
      const named = crossing.trains.findIndex((train) => train.name === wanted.train);
      this.state.train = Math.max(0, named);
      const ways = Object.keys(crossing.ways[this.state.train]);
      this.state.way = ways.includes(wanted.way) ? wanted.way : ways[0];
      const [low, high] = this.reach();
      const given = Number(wanted.position);
      this.state.position =
        wanted.position !== undefined && wanted.position !== null && isFinite(given)
          ? Math.min(high, Math.max(low, given))
          : stillbar.rounded(
              this,
              low + (this.state.way === "forward" ? this.study.start : 1 - this.study.start) * (high - low),
            );
      this.state.side = 0;
    }

    /* The page's sentences in the units that are shown. */
    get sentences() {
      return this.told[this.units()];
    }
    load() {
      return this.study.unders[this.state.under];
    }
    crossing() {
      const name = this.load().crossing;
      return name ? this.study.crossings[name] : null;
    }
    trainNow() {
      return this.crossing().trains[this.state.train];
    }
    reach() {
      const arranged = this.arrangedNow(),
        ways = arranged ? arranged.ways : this.crossing().ways[this.state.train],
        breaks = ways[this.state.way].breaks;
      return [breaks[0], breaks[breaks.length - 1]];
    }
    train() {
      return this.crossing()
        ? {
            number: this.state.train,
            way: this.state.way,
            position: this.state.position,
            side: this.state.side,
          }
        : null;
    }

    /* What is arranged for the member and the sign chosen, or for no member, once the server has said it. */
    arrangedNow() {
      const state = this.state,
        known = this.arranged;
      if (!known || known.under !== state.under || known.sign !== state.arranged) return null;
      const same = known.member === state.member && known.train === state.train;
      return same || !state.arranged ? known : null;
    }

    /* Loads as they stand (0), or arranged for most tension (1) or compression (-1) in the member chosen. */
    arrange(sign) {
      this.state.arranged = this.load().arranges ? sign : 0;
      this.state.side = 0;
      this.paint();
      stillbar.tell();
    }

    choose(member) {
      if (member < 0 || member >= this.study.members.length) return;
      this.state.member = member;
      this.drawing.choose(member);
      this.gather();
      this.paint();
      stillbar.tell();
    }

    /* A member pointed at is a member chosen. */
    pick(member) {
      this.choose(member);
    }

    take(under) {
      const before = this.load().crossing;
      this.state.under = under;
      this.state.side = 0;
      this.state.arranged = 0;
      this.state.train = 0;
      this.state.beside = -1;
      if (this.load().crossing && this.load().crossing !== before) this.startTrain({ way: this.state.way });
      this.raise();
      this.paint();
      stillbar.tell();
    }

    /* Where no arrows stand over the truss it moves up into their room. */
    raise() {
      const wanted = this.load().loaded ? 0 : LIFT,
        change = this.lift - wanted,
        drawing = this.drawing;
      if (!change) return;
      this.lift = wanted;
      drawing.svg.setAttribute("height", Number(drawing.svg.getAttribute("height")) + change);
      drawing.pan(0, change);
      this.followTrack();
    }

    ride(position, way, side) {
      if (!this.crossing()) return;
      if (way && this.crossing().ways[this.state.train][way]) this.state.way = way;
      const [low, high] = this.reach();
      this.state.position = Math.min(high, Math.max(low, position));
      this.state.side = side || 0;
      this.paintSoon();
      stillbar.tellPlace();
    }

    /* Stand on that side of a jump on which the peak sought lies, once it can be told. */
    settle() {
      const sought = this.sought,
        arranged = this.arrangedNow();
      if (!sought || !this.crossing() || (this.state.arranged && !arranged)) return;
      this.sought = null;
      const train = { number: this.state.train, way: sought.way, position: sought.position };
      const side = stillbar.sideOf(
        this.study,
        this.state.under,
        train,
        this.state.member,
        sought.force,
        arranged,
      );
      this.ride(sought.position, sought.way, side);
      this.gather(this.road(sought.position)[0]);
      this.paint();
    }

    /* ---- room ---- */

    fit() {
      const width = byId("stage").clientWidth || PLATE,
        drawing = this.drawing,
        frame = drawing.frame;
      this.width = width;
      this.narrow = width <= NARROW;
      const whole = width / PLATE,
        truss = frame.height - frame.top - BELOW;
      const closer =
        this.narrow && drawing.px.length > 6
          ? Math.max(whole, Math.min(1, 190 / Math.max(truss, 1), this.closer()))
          : whole;
      drawing.least = Math.min(whole, closer);
      this.lift = this.load().loaded ? 0 : LIFT;
      drawing.view = { zoom: closer, x: 0, y: -this.lift };
      drawing.svg.setAttribute("width", width);
      drawing.svg.setAttribute("height", Math.round(frame.top + closer * truss + BELOW - this.lift));
      const across = closer * (Math.max(...drawing.px) - Math.min(...drawing.px));
      byId("overview").hidden = !(this.narrow && across > width);
      this.overviewShown = !byId("overview").hidden;
      drawing.place();
      if (this.overviewShown) this.gather();
      else if (this.narrow) drawing.pan((width - closer * PLATE) / 2, 0);
      this.followTrack();
    }

    /* On a narrow page: a window in which bars have some 90 px. */
    closer() {
      const lengths = this.study.ends.map(([a, b]) =>
        Math.hypot(this.drawing.px[a] - this.drawing.px[b], this.drawing.py[a] - this.drawing.py[b]),
      );
      lengths.sort((a, b) => a - b);
      return 92 / (lengths[Math.floor(lengths.length / 2)] || 92);
    }

    /* Keep the chosen member or the train in a narrow window. */
    gather(x) {
      if (!this.overviewShown) return;
      const drawing = this.drawing,
        [a, b] = this.study.ends[this.state.member];
      const wanted = x === undefined ? this.between((drawing.px[a] + drawing.px[b]) / 2) : x;
      const all = [Math.min(...drawing.px) - 40, Math.max(...drawing.px) + 40],
        half = this.width / 2 / drawing.view.zoom;
      const middle =
        all[1] - all[0] < 2 * half
          ? (all[0] + all[1]) / 2
          : Math.min(all[1] - half, Math.max(all[0] + half, wanted));
      drawing.view = {
        zoom: drawing.view.zoom,
        x: this.width / 2 - drawing.view.zoom * middle,
        y: drawing.view.y,
      };
      drawing.place();
    }

    /* Between the member and the train where the window holds both, else at the member. */
    between(member) {
      if (!this.crossing()) return member;
      const train = this.road(this.state.position)[0];
      return Math.abs(train - member) < (0.8 * this.width) / this.drawing.view.zoom
        ? (train + member) / 2
        : member;
    }

    followTrack() {
      if (!this.track) return;
      const own = this.study.dimension === 3 || this.overviewShown;
      this.track.follow(own ? { zoom: this.width / PLATE, x: 0 } : this.drawing.view, this.width);
    }

    showWindow() {
      const shade = byId("overview").querySelector(".window");
      if (!shade || !this.overviewShown) return;
      const view = this.drawing.view;
      shade.setAttribute("x", -view.x / view.zoom);
      shade.setAttribute("width", this.width / view.zoom);
    }

    /* ---- what is seen ---- */

    setLoads(markup) {
      this.drawing.svg.querySelector(".load-place").innerHTML = markup;
      this.drawing.rehang();
      this.drawing.place();
      this.paint();
    }

    setTrack(data) {
      const markup = data.markup;
      stillbar.keepLoss(this, data);
      this.arranged = data.arranged
        ? Object.assign(stillbar.unpackArranged(data.arranged), {
            member: data.member,
            under: data.under,
            sign: data.sign,
            train: data.train,
          })
        : null;
      const held = byId("track").contains(document.activeElement);
      byId("track").innerHTML = markup;
      byId("beside-told").textContent = data.beside;
      const svg = byId("track").querySelector("svg.track");
      this.track = svg ? new stillbar.Track(svg) : null;
      if (held && this.track) this.track.grip.focus({ preventScroll: true });
      this.followTrack();
      this.settle();
      this.paint();
    }

    /* What stands beside the pointer over a member. */
    hint(member) {
      const value = this.values[member],
        zero = Math.abs(value) <= this.load().band;
      return (
        this.study.members[member] +
        "  " +
        (zero ? "0" : (value > 0 ? "T " : "C ") + stillbar.tellForce(this, value))
      );
    }

    /* One painting a frame, however fast the hand is. */
    paintSoon() {
      if (this.soon) return;
      this.soon = requestAnimationFrame(() => {
        this.soon = 0;
        this.paint();
      });
    }

    paint() {
      const study = this.study,
        load = this.load(),
        train = this.train();
      const values = stillbar.rowsAt(study, this.state.under, train, this.arrangedNow());
      stillbar.afterLoss(this, values);
      this.values = values;
      const shown = stillbar.look(this, values);
      stillbar.lookLost(this, shown);
      if (train) stillbar.placeTrain(this, train);
      stillbar.placeTraffic(this, train);
      /* Every measure but the force now is of all loads: those drawn stand back. */
      byId("plate").classList.toggle("of-all-loads", this.state.measure !== "force now");
      this.drawing.paint(shown.looks, shown.parts, shown.said);
      if (this.overviewShown) {
        this.small.forEach((bar, i) => {
          bar.setAttribute("class", "bar " + shown.looks[i]);
          bar.style.setProperty("--f", shown.parts[i].toFixed(3));
        });
        this.showWindow();
      }
      this.placeReactions(values, load);
      stillbar.say(this, values);
    }

    /* A point of the road in pixels at zoom 1; beyond the chord the road goes on level. */
    road(position) {
      const crossing = this.crossing(),
        at = crossing.positions,
        joints = crossing.joints,
        d = this.drawing;
      const last = at.length - 1,
        k = Math.min(
          last - 1,
          Math.max(
            0,
            at.findIndex((p) => p > position) < 0 ? last - 1 : at.findIndex((p) => p > position) - 1,
          ),
        );
      const a = joints[k],
        b = joints[k + 1],
        share = (position - at[k]) / (at[k + 1] - at[k]),
        inside = Math.min(1, Math.max(0, share));
      return [
        d.px[a] + share * (d.px[b] - d.px[a]),
        d.py[a] + inside * (d.py[b] - d.py[a]),
        share === inside,
      ];
    }

    placeReactions(values, load) {
      const members = this.study.members.length,
        factor = this.study.systems[this.units()].force[1];
      for (const reaction of this.drawing.reactions) {
        const value = values[members + reaction.row],
          none = Math.abs(value) <= Math.max(load.band, 1e-6 * load.scale);
        reaction.group.classList.toggle("off", none);
        if (none || !reaction.text) continue;
        reaction.group.classList.toggle("down", value < 0);
        reaction.text.textContent = stillbar.significant(Math.abs(value) / factor, 3);
      }
    }

    units() {
      return this.state.units || this.study.units;
    }
  }

  /* Opens on a member that shows what it is about: zero in part of what can happen, and working in the rest. */
  function packedMember(study) {
    return study.first;
  }

  stillbar.Stage = Stage;
})();
