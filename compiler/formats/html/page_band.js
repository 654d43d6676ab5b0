// The band: sounds made by the browser from the note lists.
const band = (() => {
  let context = null, master = null, noise = null;
  const mixers = {};
  const muted = (role) => { const box = $(`#voice-${role}`); return box && !box.checked; };

  function openSound() {
    if (context) { context.resume(); return; }
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
    context.resume();
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

  return {
    open: openSound,
    now: () => context.currentTime,
    play(role, at, length, key, force) { players[role](at, length, key, force); },
    silence() {
      for (const source of sounding) { try { source.stop(); } catch { /* it has ended by itself */ } }
      sounding.clear();
    },
    setLoudness(value) { if (master) master.gain.value = value; },
    /** Voices as their boxes say. */
    mix(role) { if (context) mixers[role].gain.value = muted(role) ? 0 : 1; },
  };
})();
