/* Rows: every member force and reaction under a load, with a train at a place; evaluated, never computed anew. */
(function () {
  "use strict";

  const stillbar = (window.stillbar = window.stillbar || {});

  function bytes(text) {
    const raw = atob(text),
      array = new Uint8Array(raw.length);
    for (let i = 0; i < raw.length; i++) array[i] = raw.charCodeAt(i);
    return array.buffer;
  }
  const floats = (text) => new Float64Array(bytes(text));
  stillbar.floats = floats;
  const whole = (text) => new Int32Array(bytes(text));

  function unpackWay(way) {
    return {
      direction: way.direction,
      breaks: floats(way.breaks),
      pieces: {
        begins: whole(way.counts),
        joints: whole(way.joints),
        powers: way.weights.map(floats),
      },
      seconds: way.seconds ? floats(way.seconds) : null,
      moves: way.moves ? floats(way.moves) : null,
      jumps: floats(way.jumps),
      over: {
        begins: whole(way.jumpCounts),
        joints: whole(way.jumpJoints),
        weights: floats(way.jumpWeights),
      },
    };
  }

  /* The ways of each train of a set, by direction. */
  function unpackWays(ways, trains) {
    return trains.map((_, number) =>
      Object.fromEntries(
        ways.filter((way) => way.train === number).map((way) => [way.direction, unpackWay(way)]),
      ),
    );
  }

  /* Loads arranged for one member: ways of the train shown, lanes alone. */
  stillbar.unpackArranged = function (arranged) {
    const ways = Object.fromEntries(arranged.ways.map((way) => [way.direction, unpackWay(way)]));
    return { ways: ways, lanes: arranged.lanes, own: arranged.own };
  };

  stillbar.unpack = function (packed) {
    const crossings = {};
    for (const [name, crossing] of Object.entries(packed.crossings)) {
      crossings[name] = {
        joints: crossing.joints,
        positions: crossing.positions,
        trains: crossing.trains,
        influence: floats(crossing.influence),
        ways: unpackWays(crossing.ways, crossing.trains),
      };
    }
    return Object.assign({}, packed, { standing: floats(packed.standing), crossings: crossings });
  };

  /* The piece of the way that holds a position; side -1 and 1 choose at a break, where both usually agree. */
  function pieceAt(breaks, position, side) {
    let low = 0,
      high = breaks.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (breaks[middle] < position || (breaks[middle] === position && side > 0)) low = middle;
      else high = middle;
    }
    return low;
  }

  /* Weights on the chord's joints as [joint, weight] pairs; none while the train is off the chord. */
  function weights(way, position, side) {
    const breaks = way.breaks,
      last = breaks.length - 1;
    const near = 1e-9 * (breaks[last] - breaks[0]),
      found = [];
    for (let j = 0; j < way.jumps.length && side === 0; j++) {
      if (Math.abs(way.jumps[j] - position) > near) continue;
      for (let k = way.over.begins[j]; k < way.over.begins[j + 1]; k++)
        found.push([way.over.joints[k], way.over.weights[k]]);
      return found;
    }
    if (position < breaks[0] - near || position > breaks[last] + near) return found;
    if ((side < 0 && position <= breaks[0]) || (side > 0 && position >= breaks[last])) return found;
    const piece = pieceAt(breaks, position, side),
      pieces = way.pieces;
    const past = Math.min(Math.max(position, breaks[piece]), breaks[piece + 1]) - breaks[piece];
    for (let k = pieces.begins[piece]; k < pieces.begins[piece + 1]; k++) {
      let weight = 0;
      for (let power = pieces.powers.length - 1; power >= 0; power--)
        weight = weight * past + pieces.powers[power][k];
      found.push([pieces.joints[k], weight]);
    }
    return found;
  }

  /* Where the front of the second train is; none where it is not. */
  stillbar.secondAt = function (way, position) {
    if (!way.seconds) return null;
    const piece = pieceAt(way.breaks, position, 1),
      front = way.seconds[piece] + way.moves[piece] * (position - way.breaks[piece]);
    return isFinite(front) ? front : null;
  };

  function bring(values, crossing, joint, load) {
    const joints = crossing.joints.length;
    for (let i = 0; i < values.length; i++) values[i] += load * crossing.influence[i * joints + joint];
  }

  /* All rows under load number `under`; `train`: {number, way, position, side} or null; `arranged`: what
     stands otherwise for one member, or nothing. */
  stillbar.rowsAt = function (study, under, train, arranged) {
    const load = study.unders[under],
      count = study.rows,
      loads = study.unders.length;
    const values = new Float64Array(count);
    for (let i = 0; i < count; i++) values[i] = study.standing[i * loads + under];
    for (const lane of arranged ? arranged.lanes : [])
      lane.weights.forEach((weight, joint) => {
        if (weight) bring(values, study.crossings[lane.crossing], joint, weight);
      });
    if (!load.crossing || !train) return values;
    const crossing = study.crossings[load.crossing],
      way = arranged ? arranged.ways[train.way] : crossing.ways[train.number || 0][train.way];
    for (const [joint, weight] of weights(way, train.position, train.side || 0))
      bring(values, crossing, joint, load.factor * weight);
    return values;
  };

  /* The side of a jump on which a row has a value: a peak may stand on either, or exactly over the joint. */
  stillbar.sideOf = function (study, under, train, row, value, arranged) {
    let best = 0,
      least = Infinity;
    for (const side of [0, -1, 1]) {
      const place = Object.assign({}, train, { side: side });
      const off = Math.abs(stillbar.rowsAt(study, under, place, arranged)[row] - value);
      if (off < least * (1 - 1e-9) && off < least - 1e-12 * Math.abs(value)) {
        least = off;
        best = side;
      }
    }
    return best;
  };

  /* Numbers as in explorer/wording/numbers.py. */
  stillbar.significant = function (value, digits) {
    if (value === 0) return "0";
    const power = Math.floor(Math.log10(Math.abs(value)));
    let text = value.toFixed(Math.max(0, digits - 1 - power));
    if (Math.abs(Number(text)) >= Math.pow(10, power + 1))
      text = value.toFixed(Math.max(0, digits - 2 - power));
    return text;
  };
  stillbar.brief = function (value) {
    const size = Math.abs(value);
    if (size >= 9.95) return size.toFixed(0);
    return stillbar.significant(size, 2);
  };
  stillbar.percent = function (share) {
    const space = "\u00a0";
    share = Number(share.toFixed(12));
    if (share > 0 && share < 0.0095) return Math.max(100 * share, 0.1).toFixed(1) + space + "%";
    if (share > 0.9905 && share < 1) return Math.min(100 * share, 99.9).toFixed(1) + space + "%";
    return (100 * share).toFixed(0) + space + "%";
  };
})();
