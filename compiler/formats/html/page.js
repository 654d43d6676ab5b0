'use strict';
// The listening page at work: shows reasons, re-letters symbols for another instrument, plays any row
// with sounds made in the browser. Nothing is fetched; without this script the page still reads and prints.
(() => {
  const $ = (selector) => document.querySelector(selector);
  const $$ = (selector) => [...document.querySelectorAll(selector)];
  const data = JSON.parse($('#sound').textContent);
  const QUARTER = 480;
  const bars = data.bars;                      // [start, length] in ticks
  const barElements = $$('.bar');
  const end = bars.length ? bars.at(-1)[0] + bars.at(-1)[1] : 0;

  // ---- what is shown ------------------------------------------------------------------------------
  let heard = data.rows.length > 1 ? 1 : 0;
  const nameOf = (row) => $(`#hear-${row}`)?.dataset.name ?? '';

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
  }

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

  // ---- time ---------------------------------------------------------------------------------------
  let tempo = data.quarters;                   // quarters a minute
  let swing = data.swing;
  let region = [0, end];
  let looping = false;
  let position = 0;                            // where to start, ticks
  const secondsATick = () => 60 / tempo / QUARTER;
  /** The quarter that holds `ticks`, counted from the first full bar, and how far into it, 0 to 1. */
  function quarterOf(ticks) {
    const start = data.grid + Math.floor((ticks - data.grid) / QUARTER) * QUARTER;
    return [start, (ticks - start) / QUARTER];
  }
  /** Written ticks to sounding ticks: the first half of a quarter is stretched, the second pressed. */
  function stretched(ticks) {
    const [start, part] = quarterOf(ticks);
    return start + (part < .5 ? part * 2 * swing : swing + (part - .5) * 2 * (1 - swing)) * QUARTER;
  }
  /** And back. */
  function written(sounding) {
    const [start, part] = quarterOf(sounding);
    return start + (part < swing ? part / swing / 2 : .5 + (part - swing) / (1 - swing) / 2) * QUARTER;
  }
  /** When a note sounds: what does not halve the quarter (triplets) stays where it is, as in the MIDI files. */
  const swung = (ticks) => ((ticks - data.grid) % (QUARTER / 32) === 0 ? stretched(ticks) : ticks);

  // ---- sound --------------------------------------------------------------------------------------
  const roles = ['melody', 'comping', 'bass', 'time', 'guide'];
  let context = null, master = null, noise = null;
  const mixers = {};
  const muted = (role) => { const box = $(`#voice-${role}`); return box && !box.checked; };

  function openSound() {
    if (context) return;
    context = new AudioContext();
    master = context.createGain();
    master.gain.value = Number($('#loud').value) / 100;
    const limit = context.createDynamicsCompressor();
    master.connect(limit).connect(context.destination);
    for (const role of roles) {
      mixers[role] = context.createGain();
      mixers[role].gain.value = muted(role) ? 0 : 1;
      mixers[role].connect(master);
    }
    noise = context.createBuffer(1, context.sampleRate, context.sampleRate);
    const samples = noise.getChannelData(0);
    let seed = 7;
    for (let i = 0; i < samples.length; ++i) {
      seed = (seed * 16807) % 2147483647;
      samples[i] = seed / 1073741823.5 - 1;
    }
  }
  const hertz = (key) => 440 * 2 ** ((key - 69) / 12);
  let sounding = new Set();

  function envelope(role, at, length, peak, attack, sustain, release) {
    const gain = context.createGain();
    gain.gain.setValueAtTime(0, at);
    gain.gain.linearRampToValueAtTime(peak, at + attack);
    gain.gain.setTargetAtTime(peak * sustain, at + attack, Math.max(.05, length / 2));
    gain.gain.setTargetAtTime(0, at + length, release);
    gain.connect(mixers[role]);
    return gain;
  }
  function tone(type, frequency, target, at, stop) {
    const source = context.createOscillator();
    source.type = type;
    source.frequency.value = frequency;
    source.connect(target);
    source.start(at);
    source.stop(stop);
    sounding.add(source);
    source.onended = () => sounding.delete(source);
  }
  function filtered(kind, frequency, target) {
    const filter = context.createBiquadFilter();
    filter.type = kind;
    filter.frequency.value = frequency;
    filter.connect(target);
    return filter;
  }
  function hiss(at, length, kind, frequency, peak) {
    const source = context.createBufferSource();
    source.buffer = noise;
    source.connect(filtered(kind, frequency, envelope('time', at, length, peak, .002, .25, length / 3)));
    source.start(at, (at * 7.3) % .5, length * 3);
    sounding.add(source);
    source.onended = () => sounding.delete(source);
  }
  const players = {
    melody(at, length, key, force) {
      const gain = envelope('melody', at, length, .16 * force, .03, .8, .05);
      tone('sawtooth', hertz(key), filtered('lowpass', 900 + 1600 * force, gain), at, at + length + .4);
    },
    comping(at, length, key, force) {
      const gain = envelope('comping', at, length, .10 * force, .006, .25, .07);
      tone('sine', hertz(key), gain, at, at + length + .5);
      tone('triangle', 2 * hertz(key), filtered('lowpass', 2200, gain), at, at + Math.min(length, .5) + .3);
    },
    bass(at, length, key, force) {
      const gain = envelope('bass', at, length, .34 * force, .01, .45, .06);
      tone('triangle', hertz(key), filtered('lowpass', 620, gain), at, at + length + .4);
    },
    guide(at, length, key, force) {
      tone('sine', hertz(key), envelope('guide', at, length, .13 * force, .05, .9, .08), at, at + length + .5);
    },
    time(at, length, key, force) {
      if (key === 35 || key === 36) {
        tone('sine', 55, envelope('time', at, .12, .3 * force, .003, .1, .05), at, at + .4);
      } else if (key >= 37 && key <= 40) {
        hiss(at, .07, 'bandpass', 1900, .22 * force);
      } else if (key === 42 || key === 44) {
        hiss(at, .03, 'highpass', 8000, .16 * force);
      } else {
        hiss(at, .12, 'highpass', 6500, .12 * force);
      }
    },
  };

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
  const firstAt = (notes, tick) => {
    let low = 0, high = notes.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (notes[middle][0] < tick) low = middle + 1; else high = middle;
    }
    return low;
  };

  // ---- playing ------------------------------------------------------------------------------------
  // A pass starts at written tick `from` when the clock of the sound shows `time`.
  let timer = 0, passes = [], next = 0, reached = 0;
  const playing = () => timer !== 0;
  const timeOf = (pass, tick) => pass.time + (swung(tick) - stretched(pass.from)) * secondsATick();
  function here() {
    if (!playing()) return position;
    const now = context.currentTime;
    let pass = passes[0];
    for (const one of passes) if (one.time <= now) pass = one;
    const sounding = (now - pass.time) / secondsATick() + stretched(pass.from);
    return Math.max(pass.from, Math.min(end, written(sounding)));
  }
  function begin(tick) {
    passes = [{time: context.currentTime + .08, from: tick}];
    reached = tick;
    next = firstAt(unpacked[heard], tick);
  }
  function schedule() {
    const horizon = context.currentTime + .15;
    for (;;) {
      const pass = passes.at(-1), notes = unpacked[heard];
      const note = notes[next];
      const stop = looping ? region[1] : end;
      if (note && note[0] < stop) {
        const at = timeOf(pass, note[0]);
        if (at > horizon) return;
        if (at > context.currentTime - .03) {
          const length = Math.max(.03, (swung(note[0] + note[1]) - swung(note[0])) * secondsATick());
          players[note[4]](Math.max(at, context.currentTime), length, note[2], note[3] / 100);
        }
        reached = note[0];
        ++next;
        continue;
      }
      const over = timeOf(pass, stop);
      if (over > horizon) return;
      if (!looping) {
        if (context.currentTime >= over) { halt(); position = 0; draw(); }
        return;
      }
      passes.push({time: over, from: region[0]});
      if (passes.length > 4) passes.shift();
      next = firstAt(notes, region[0]);
      reached = region[0];
    }
  }
  function play() {
    openSound();
    context.resume();
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
    for (const source of sounding) { try { source.stop(); } catch { /* it has ended by itself */ } }
    sounding.clear();
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

  // ---- the moving line ----------------------------------------------------------------------------
  const cursor = document.createElement('i');
  cursor.hidden = true;
  let shown = -1;
  function barAt(tick) {
    let bar = 0;
    while (bar + 1 < bars.length && bars[bar + 1][0] <= tick) ++bar;
    return bar;
  }
  function draw() {
    const tick = here(), bar = barAt(tick);
    const element = barElements[bar];
    if (!element) return;
    if (bar !== shown) {
      shown = bar;
      element.append(cursor);
      cursor.hidden = false;
      $('#now').textContent = element.dataset.place;
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

  // ---- the desk -----------------------------------------------------------------------------------
  function hear(row) {
    heard = row;
    $(`#hear-${row}`).checked = true;
    next = firstAt(unpacked[heard], reached + 1);
    showRows();
  }
  $('.play').addEventListener('click', () => { if (playing()) halt(); else play(); });
  for (const radio of $$('input[name=hear]')) radio.addEventListener('change', () => hear(Number(radio.value)));
  $('#all').addEventListener('change', showRows);
  $('#reader').addEventListener('change', (event) => letter(Number(event.target.value)));
  $('#tempo').addEventListener('input', (event) => {
    restart(() => { tempo = Number(event.target.value) * data.quarters / data.beats; });
    $('#tempo-out').textContent = event.target.value;
  });
  $('#swing').addEventListener('input', (event) => {
    restart(() => { swing = Number(event.target.value) / 100; });
    $('#swing-out').textContent = `${event.target.value} %`;
  });
  $('#loud').addEventListener('input', (event) => { if (master) master.gain.value = Number(event.target.value) / 100; });
  for (const role of roles) {
    $(`#voice-${role}`)?.addEventListener('change', () => { if (context) mixers[role].gain.value = muted(role) ? 0 : 1; });
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
})();
