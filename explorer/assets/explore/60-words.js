/* What bars and words show: the measure chosen, the sentence over the drawing, the reading of the chosen member. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const byId = (id) => document.getElementById(id);

  /* What bars can show is what the page lets one choose. */
  stillbar.measures = () => [...byId("measure").options].map((option) => option.value);

  const forceUnit = (stage) => stage.study.systems[stage.units()].force;
  stillbar.tellForce = (stage, force) =>
    stillbar.significant(Math.abs(force) / forceUnit(stage)[1], 3) + "\u00a0" + forceUnit(stage)[0];
  stillbar.tellPosition = function (stage, position) {
    const [label, factor] = stage.study.systems[stage.units()].length;
    const value = position / factor,
      text = Math.abs(value) < 1e-9 ? "0" : value.toFixed(Math.abs(value) >= 1000 ? 0 : 1);
    return (text === "-0.0" ? "0" : text.replace(/\.0$/, "")) + "\u00a0" + label;
  };

  function forces(stage, values, band, largest, letters) {
    const factor = forceUnit(stage)[1],
      count = stage.study.members.length;
    const shown = { looks: new Array(count), parts: new Array(count), said: new Array(count) };
    for (let i = 0; i < count; i++) {
      const value = values[i],
        zero = Math.abs(value) <= band;
      shown.looks[i] = zero ? "z" : value > 0 ? "t" : "c";
      shown.parts[i] = zero || !largest ? 0 : Math.min(1, Math.abs(value) / largest);
      shown.said[i] = zero ? "0" : (value > 0 ? "T " : "C ") + stillbar.brief(value / factor);
    }
    return shown;
  }

  function shares(values, look, tell) {
    return {
      looks: values.map((v) => (v > 0 ? look : "plain")),
      parts: values.map((v) => v),
      said: values.map(tell),
    };
  }

  /* What losing each member leaves: mechanisms inked, overload half as wide, strength unproven thin. */
  const OUTCOMES = { carried: ["plain", 0], stands: ["share", 0.15], overload: ["share", 1] };
  function outcomes(words) {
    const looks = words.map((word) => OUTCOMES[word] || ["ink", word === "unpropped" ? 0.4 : 1]);
    return { looks: looks.map(([look]) => look), parts: looks.map(([, part]) => part), said: words };
  }

  /* How much of its limits is asked of each member: ink as thick as that, doubled beyond all, dots where unknown. */
  function utilisations(values, told, strokes) {
    const over = (v) => v > 1 + 1e-9;
    return {
      looks: values.map(
        (v, i) => (v === null ? "unknown" : over(v) ? "over" : "ink") + (strokes[i].length ? " holds" : ""),
      ),
      parts: values.map((v) => (v === null ? 0 : Math.min(1, v))),
      said: told,
    };
  }

  /* Looks, widths (0 to 1) and words of all members under the measure chosen. */
  stillbar.look = function (stage, values) {
    const m = stage.study.measures,
      tension = m["peak tension"],
      compression = m["peak compression"];
    const largest = Math.max(
      ...(stage.peaks || (stage.peaks = [Math.max(0, ...tension), Math.max(0, ...compression)])),
    );
    switch (stage.state.measure) {
      case "zero share":
        return shares(m["zero share"], "share", stillbar.percent);
      case "peak tension":
        return forces(stage, tension, 0, largest);
      case "peak compression":
        return forces(
          stage,
          compression.map((v) => -v),
          0,
          largest,
        );
      case "largest peak":
        return forces(
          stage,
          tension.map((v, i) => (v >= compression[i] ? v : -compression[i])),
          0,
          largest,
        );
      case "redundancy share":
        return shares(m["redundancy share"], "ink", (v) => (v ? stillbar.significant(v, 2) : "0.0"));
      case "outcome if gone":
        return outcomes(m["outcome if gone"]);
      case "utilisation":
        return utilisations(m["utilisation"], m["utilisation told"], stage.study.strokes);
      default:
        return forces(stage, values, stage.load().band, stillbar.largestShown(stage, values));
    }
  };

  /* The sentence over the drawing, where the train stands, and what the chosen member does now. */
  stillbar.say = function (stage, values) {
    const study = stage.study,
      words = stage.sentences,
      band = stage.load().band,
      count = study.members.length;
    let zeros = 0;
    const lost = stage.lost ? stage.lost.member : -1;
    for (let i = 0; i < count; i++) if (i !== lost && Math.abs(values[i]) <= band) zeros++;
    const kind = zeros === 0 ? "none" : zeros === 1 ? "one" : zeros === count ? "all" : "some";
    const number = zeros < words.numbers.length ? words.numbers[zeros] : String(zeros);
    const told = words[kind].replace("{Number}", number.charAt(0).toUpperCase() + number.slice(1));
    write("sentence", stillbar.sayDifference(stage, values) || told);
    const train = stage.train(),
      under = words.unders[stage.state.under];
    const place = train ? stillbar.tellPosition(stage, train.position) : "";
    const bare = train && !stage.state.arranged && (stage.load().lanes.length || stage.trainNow().lane);
    const where = train ? ", front at " + place + ", " + train.way + (bare ? "; no lane placed" : "") : "";
    write("where", under.told + where);
    write("why-few", under.few || "");
    const now = values[stage.state.member],
      member = study.members[stage.state.member];
    const state = stage.lost
      ? "drawing without " + study.members[stage.lost.member]
      : Math.abs(now) <= band
        ? "zero just now"
        : (now > 0 ? "T\u00a0" : "C\u00a0") + stillbar.tellForce(stage, now) + " now";
    for (const node of document.querySelectorAll(".now"))
      if (node.textContent !== state) node.textContent = state;
    stillbar.readOut(member + ", " + state);
    if (!train || !stage.track) return;
    const [low, high] = stage.reach();
    stage.track.describe({
      "aria-valuemin": low,
      "aria-valuemax": high,
      "aria-valuenow": train.position,
      "aria-valuetext": place + " " + train.way + ", " + member + " " + state,
    });
  };

  function write(id, text) {
    const node = byId(id);
    if (node && node.textContent !== text) node.textContent = text;
  }

  /* Spoken to those who listen, once the hand has come to rest. */
  let waiting = 0;
  stillbar.readOut = function (text) {
    clearTimeout(waiting);
    waiting = setTimeout(() => write("spoken", text), 500);
  };
})();
