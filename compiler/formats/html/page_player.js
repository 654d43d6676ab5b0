// Playing: a loop is a chain of passes. Sounds are ordered a moment ahead.
let region = [0, end];                         // ticks
let looping = false;
let position = 0;                              // where to start, ticks

// A pass starts at written tick `from` when the clock of the sound shows `time`.
let timer = 0, passes = [], next = 0, reached = 0;
const playing = () => timer !== 0;
const timeOf = (pass, tick) => pass.time + clock.ofNote(tick) - clock.ofPlace(pass.from);
function here() {
  if (!playing()) return position;
  const now = band.now();
  let pass = passes[0];
  for (const one of passes) if (one.time <= now) pass = one;
  const place = clock.placeAt(now - pass.time + clock.ofPlace(pass.from));
  return Math.max(pass.from, Math.min(end, place));
}
function begin(tick) {
  passes = [{time: band.now() + .08, from: tick}];
  reached = tick;
  next = firstAt(unpacked[heard], tick);
}
function schedule() {
  const horizon = band.now() + .15;
  for (;;) {
    const pass = passes.at(-1), notes = unpacked[heard];
    const note = notes[next];
    const stop = looping ? region[1] : end;
    if (note && note[0] < stop) {
      const at = timeOf(pass, note[0]);
      if (at > horizon) return;
      if (at > band.now() - .03) {
        const length = Math.max(.03, clock.ofNote(note[0] + note[1]) - clock.ofNote(note[0]));
        band.play(note[4], Math.max(at, band.now()), length, note[2], note[3] / 100);
      }
      reached = note[0];
      ++next;
      continue;
    }
    const over = timeOf(pass, stop);
    if (over > horizon) return;
    if (!looping) {
      if (band.now() >= over) { halt(); position = 0; draw(); }
      return;
    }
    passes.push({time: over, from: region[0]});
    if (passes.length > 4) passes.shift();
    next = firstAt(notes, region[0]);
    reached = region[0];
  }
}
function play() {
  band.open();
  if (looping && (position < region[0] || position >= region[1])) position = region[0];
  if (position >= end) position = 0;
  begin(position);
  timer = setInterval(schedule, 30);
  schedule();
  $('.play').textContent = 'Pause';
  requestAnimationFrame(follow);
}
function halt() {
  if (!playing()) return;
  position = here();
  clearInterval(timer);
  timer = 0;
  band.silence();
  $('.play').textContent = 'Play';
}
/** Something about time changed: go on from where we are. */
function restart(change) {
  const was = playing();
  halt();
  change();
  if (was) play(); else draw();
}
function jump(tick) { restart(() => { position = tick; }); }

// ---- loops --------------------------------------------------------------------------------------
function setLoop(first, last, label) {
  restart(() => {
    looping = first !== null;
    region = looping ? [bars[first][0], bars[last][0] + bars[last][1]] : [0, end];
    if (looping && (position < region[0] || position >= region[1])) position = region[0];
  });
  if (!looping) $('#loop').value = '';
  $('#looped').textContent = looping ? `Loop: ${label}` : '';
}
function loopAround(spot) {
  const bar = barElements.indexOf(spot.closest('.bar'));
  const first = Math.max(0, bar - 1), last = Math.min(bars.length - 1, bar + 2);
  const label = `${barElements[first].dataset.place} to ${barElements[last].dataset.place}`;
  // A choice of its own, so that "off" can be chosen after it.
  const choice = $('#loop [data-spot]') ?? document.createElement('option');
  choice.dataset.spot = '';
  choice.value = `${first}-${last}`;
  choice.textContent = label;
  $('#loop').append(choice);
  choice.selected = true;
  setLoop(first, last, label);
  if (!playing()) play();
}
$('#loop').addEventListener('change', (event) => {
  const [first, last] = event.target.value.split('-').map(Number);
  if (event.target.value === '') setLoop(null);
  else setLoop(first, last, event.target.selectedOptions[0].textContent);
});
