// The desk: buttons, sliders, keys.

function hear(row) {
  const other = clocks[row] !== clock;
  const was = other && playing();
  if (was) halt();
  heard = row;
  clock = clocks[row];
  $(`#hear-${row}`).checked = true;
  next = firstAt(unpacked[heard], reached + 1);
  showClock();
  showRows();
  if (was) play();
}
/** The sliders as the row that sounds runs. */
function showClock() {
  const beats = Math.round(clock.beats * rate), swing = Math.round(clock.swing() * 100);
  $('#tempo').max = Math.max(320, beats);
  $('#tempo').min = Math.min(40, beats);
  $('#tempo').value = $('#tempo-out').textContent = beats;
  $('#swing').value = swing;
  $('#swing-out').textContent = `${swing} %`;
}
$('.play').addEventListener('click', () => { if (playing()) halt(); else play(); });
for (const radio of $$('input[name=hear]')) radio.addEventListener('change', () => hear(Number(radio.value)));
$('#all').addEventListener('change', showRows);
$('#reader').addEventListener('change', (event) => letter(Number(event.target.value)));
$('#tempo').addEventListener('input', (event) => {
  restart(() => { rate = Number(event.target.value) / clock.beats; });
  $('#tempo-out').textContent = event.target.value;
});
$('#swing').addEventListener('input', (event) => {
  restart(() => clock.setSwing(Number(event.target.value) / 100));
  $('#swing-out').textContent = `${event.target.value} %`;
});
$('#loud').addEventListener('input', (event) => band.setLoudness(Number(event.target.value) / 100));
for (const role of roles) {
  $(`#voice-${role}`)?.addEventListener('change', () => band.mix(role));
}
$('#theme').addEventListener('change', (event) => {
  if (event.target.value) document.documentElement.dataset.theme = event.target.value;
  else delete document.documentElement.dataset.theme;
});
$('#print').addEventListener('click', () => print());
barElements.forEach((element, bar) => {
  element.querySelector('.place').addEventListener('click', () => jump(bars[bar][0]));
});

document.addEventListener('keydown', (event) => {
  if (!$('#keys').checked || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.closest('select')) return;
  // Sliders and choices have a use of their own for the arrows.
  if (event.target.closest('input') && event.key.startsWith('Arrow')) return;
  const bar = barAt(here());
  if (event.key === 'p') { if (playing()) halt(); else play(); }
  else if (event.key === 'ArrowRight') jump(bars[Math.min(bars.length - 1, bar + 1)][0]);
  else if (event.key === 'ArrowLeft') jump(bars[Math.max(0, bar - 1)][0]);
  else if (event.key === 'o') setLoop(null);
  else if (event.key === 'Escape') { pinned = null; show(null); }
  else if (/^[0-9]$/.test(event.key) && Number(event.key) < data.rows.length) hear(Number(event.key));
  else return;
  event.preventDefault();
});

hear(heard);
draw();
document.documentElement.dataset.ready = 'yes';
