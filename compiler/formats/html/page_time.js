// From written ticks to seconds and back: tempi and feels as they change along the tune. Each row runs as its own
// tune is marked; the two sliders scale that.
let rate = 1;                                  // of every row's own tempi
let lilt = 1;                                  // of every row's own swing, 0 = even
let liltOfEven = .5;                           // swing of rows that have none of their own
const WIDEST = .75;
function clockOf(marks) {
  const most = Math.max(...marks.swings.map(([, swing]) => swing));
  /** Swing where the tune swings most. */
  const swinging = () => (most > .5 ? Math.min(WIDEST, .5 + (most - .5) * lilt) : liltOfEven);

  /** The last of [tick, …] at or before `tick`. */
  function inForce(list, tick) {
    let found = list[0];
    for (const mark of list) if (mark[0] <= tick) found = mark;
    return found;
  }
  // [tick, seconds before it, seconds a tick], at the tune's own tempi.
  const stretches = [];
  for (const [tick, quarters] of marks.tempi) {
    const before = stretches.at(-1);
    const seconds = before ? before[1] + (tick - before[0]) * before[2] : 0;
    stretches.push([tick, seconds, 60 / quarters / QUARTER]);
  }
  const secondsAt = (tick) => {
    const [from, seconds, each] = inForce(stretches, tick);
    return (seconds + (tick - from) * each) / rate;
  };
  function tickAt(seconds) {
    let found = stretches[0];
    for (const stretch of stretches) if (stretch[1] / rate <= seconds) found = stretch;
    return found[0] + (seconds * rate - found[1]) / found[2];
  }

  /** Swing in force: where it is even it stays even, unless the whole tune is. */
  function swingAt(tick) {
    const own = inForce(marks.swings, tick)[1];
    return most > .5 ? .5 + (own - .5) * (swinging() - .5) / (most - .5) : swinging();
  }
  /** Where quarters are counted from: the first full bar, or the bar in which the feel changed. */
  const gridAt = (tick) => Math.max(marks.grid, inForce(marks.swings, tick)[0]);
  /** The quarter that holds `tick`, and how far into it, 0 to 1. */
  function quarterOf(tick) {
    const grid = gridAt(tick);
    const start = grid + Math.floor((tick - grid) / QUARTER) * QUARTER;
    return [start, (tick - start) / QUARTER];
  }
  /** Written ticks to sounding ticks: the first half of a quarter is stretched, the second pressed. */
  function stretched(tick) {
    const [start, part] = quarterOf(tick), swing = swingAt(tick);
    return start + (part < .5 ? part * 2 * swing : swing + (part - .5) * 2 * (1 - swing)) * QUARTER;
  }
  /** And back. */
  function written(sounding) {
    const [start, part] = quarterOf(sounding), swing = swingAt(sounding);
    return start + (part < swing ? part / swing / 2 : .5 + (part - swing) / (1 - swing) / 2) * QUARTER;
  }
  /** When a note sounds: what does not halve the quarter (triplets) stays where it is, as in the MIDI files. */
  const swung = (tick) => ((tick - gridAt(tick)) % (QUARTER / 32) === 0 ? stretched(tick) : tick);

  return {
    beats: marks.beats,
    swing: swinging,
    /** For all rows: those that swing keep their proportion to this one. */
    setSwing(value) { if (most > .5) lilt = (value - .5) / (most - .5); else liltOfEven = value; },
    /** Seconds from the top, unhurried: a moment that swings stands where its note sounds. */
    ofNote: (tick) => secondsAt(swung(tick)),
    ofPlace: (tick) => secondsAt(stretched(tick)),
    placeAt: (seconds) => written(tickAt(seconds)),
  };
}
const clocks = [];
for (const marks of data.clocks) clocks.push(typeof marks === 'number' ? clocks[marks] : clockOf(marks));
let clock = clocks[heard];
