// What is seen: which rows, symbols for other instruments, reasons, the line that moves with the music.
function showRows() {
  const all = $('#all').checked;
  for (const svg of $$('.bar > svg')) {
    const row = Number(svg.dataset.row);
    svg.toggleAttribute('hidden', !(all || row === 0 || row === heard || (heard === 0 && row === 1)));
  }
  document.documentElement.dataset.heard = heard;
  for (const part of $$('.reasons > section')) {
    const row = Number(part.dataset.row);
    part.classList.toggle('noprint', row !== heard && !(heard === 0 && row === 1));
  }
  underline();
}

/** Lines under changed symbols as long as these are with the fonts at hand. */
function underline() {
  for (const mark of $$('.bar > svg:not([hidden]) .c > path')) {
    const symbol = mark.parentNode.querySelector('.s');
    const length = symbol.getComputedTextLength();
    if (length > 0) mark.setAttribute('d', mark.getAttribute('d').replace(/h[\d.]+$/, `h${length.toFixed(1)}`));
  }
}
addEventListener('resize', underline);

function letter(reader) {
  for (const text of $$('text[data-i]')) {
    const [root, suffix, bass] = data.symbols[text.dataset.i][reader].split('|');
    text.replaceChildren(root);
    if (suffix) text.append(span(suffix));
    if (bass) text.append(span('/' + bass));
    const spot = text.closest('.c[aria-label]');
    if (spot) {
      const label = spot.getAttribute('aria-label');
      spot.setAttribute('aria-label', text.textContent + label.slice(label.indexOf(', ')));
    }
  }
  underline();
  for (const text of $$('text.g')) text.toggleAttribute('hidden', reader !== 0);
  $('#reads').textContent = reader === 0 ? '' :
    `Symbols as read by: ${$('#reader').selectedOptions[0].textContent}. The sound and the reasons stay at concert pitch.`;
}
function span(text) {
  const piece = document.createElementNS('http://www.w3.org/2000/svg', 'tspan');
  piece.setAttribute('class', 'q');
  piece.textContent = text;
  return piece;
}

// ---- reasons ------------------------------------------------------------------------------------
const why = $('#why');
const idle = why.innerHTML;
let pinned = null;
function show(spot) {
  for (const one of $$('.open')) one.classList.remove('open');
  if (!spot) { why.innerHTML = idle; return; }
  const item = document.getElementById(`r${spot.dataset.r}-${spot.dataset.c}`);
  for (const one of $$(`.c[data-r="${spot.dataset.r}"][data-c="${spot.dataset.c}"]`)) one.classList.add('open');
  if (!item) return;
  item.classList.add('open');
  why.replaceChildren(...[...item.childNodes].map((node) => node.cloneNode(true)));
  const loop = document.createElement('button');
  loop.type = 'button';
  loop.className = 'here';
  loop.textContent = 'Loop this spot';
  loop.addEventListener('click', () => loopAround(spot));
  why.append(loop);
}
for (const spot of $$('.c')) {
  spot.addEventListener('pointerenter', (event) => { if (event.pointerType === 'mouse') show(spot); });
  spot.addEventListener('pointerleave', (event) => { if (event.pointerType === 'mouse') show(pinned); });
  spot.addEventListener('focus', () => { pinned = spot; show(spot); });
  spot.addEventListener('click', () => { pinned = spot; show(spot); });
  spot.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); pinned = spot; loopAround(spot); }
  });
}

// ---- the moving line ----------------------------------------------------------------------------
const cursor = document.createElement('i');
cursor.hidden = true;
let shown = -1;
function draw() {
  const tick = here(), bar = barAt(tick);
  const element = barElements[bar];
  if (!element) return;
  if (bar !== shown) {
    shown = bar;
    element.append(cursor);
    cursor.hidden = false;
    $('#now').textContent = `at ${element.dataset.place}`;
    if (playing() && $('#follow').checked) {
      const box = element.getBoundingClientRect();
      const top = $('.first').getBoundingClientRect().bottom;
      if (box.top < top || box.bottom > innerHeight - why.offsetHeight) element.scrollIntoView({block: 'center'});
    }
  }
  cursor.style.left = `${100 * (tick - bars[bar][0]) / bars[bar][1]}%`;
  document.documentElement.dataset.tick = Math.round(tick);
}
function follow() {
  if (!playing()) return;
  draw();
  requestAnimationFrame(follow);
}
