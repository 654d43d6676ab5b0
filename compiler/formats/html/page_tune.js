// The tune in numbers: bars, tempi and notes as the page carries them, and what finds a place in them.
const $ = (selector) => document.querySelector(selector);
const $$ = (selector) => [...document.querySelectorAll(selector)];
const data = JSON.parse($('#sound').textContent);
const QUARTER = 480;                           // ticks
const bars = data.bars;                        // [start, length] in ticks
const barElements = $$('.bar');
const end = bars.length ? bars.at(-1)[0] + bars.at(-1)[1] : 0;
const roles = ['melody', 'comping', 'bass', 'time', 'guide'];
let heard = data.rows.length > 1 ? 1 : 0;      // the row that sounds

function barAt(tick) {
  let bar = 0;
  while (bar + 1 < bars.length && bars[bar + 1][0] <= tick) ++bar;
  return bar;
}

// Notes of a row, all voices, by time: [tick, length, key, loudness, role].
const unpacked = data.rows.map((row) => {
  const notes = [];
  row.forEach((voice, v) => {
    const list = typeof voice === 'number' ? data.rows[voice][v] : voice;
    let at = 0;
    for (let i = 0; i + 3 < list.length; i += 4) {
      at += list[i];
      notes.push([at, list[i + 1], list[i + 2], list[i + 3], roles[v]]);
    }
  });
  return notes.sort((a, b) => a[0] - b[0]);
});
/** Index of the first note at `tick` or later. */
function firstAt(notes, tick) {
  let low = 0, high = notes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (notes[middle][0] < tick) low = middle + 1; else high = middle;
  }
  return low;
}
