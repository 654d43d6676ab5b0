// The listening page in a real browser, as a bandleader uses it: it says nothing on the console, asks the
// network for nothing, plays, loops, re-letters, explains, prints on one page, and a screen reader can use it.
//
//   node listening_page.mjs PAGE.html [PICTURE-FOLDER] [--title "TITLE"] [--seconds JSON]
//
// --seconds: when notes of the melody sound, in seconds after the first, at the tune's own tempo (`onsets`), with the
// swing slider at its end (`wide`); how rows swing (`swings`); how long the loop of a section lasts (`loops`); what stands over each bar (`places`).
// The browser is CHROMIUM, else chromium of the path. Accessibility rules: axe-core (WCAG 2.1 A and AA).
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdirSync, readFileSync, statSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';
import {after, before, test} from 'node:test';
import {pathToFileURL} from 'node:url';

const require = createRequire(path.resolve(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname),
                                           '../external/package.json'));
const {chromium} = require('playwright-core');
const axeSource = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const words = process.argv.slice(2);
const titleAt = words.indexOf('--title');
const wantedTitle = titleAt < 0 ? null : words.splice(titleAt, 2)[1];
const secondsAt = words.indexOf('--seconds');
const wanted = secondsAt < 0 ? {} : JSON.parse(words.splice(secondsAt, 2)[1]);
const [file, pictures] = words;
const executablePath = process.env.CHROMIUM || execFileSync('sh', ['-c', 'command -v chromium'], {encoding: 'utf8'}).trim();

let browser;
before(async () => {
  browser = await chromium.launch({executablePath, args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required']});
  if (pictures) mkdirSync(pictures, {recursive: true});
});
after(() => browser?.close());

/** A meter between the page and the loudspeaker, put in before the page's script runs. */
function meter() {
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (target, ...rest) {
    if (target instanceof AudioDestinationNode) {
      window.analyser = this.context.createAnalyser();
      connect.call(this, window.analyser);
    }
    return connect.call(this, target, ...rest);
  };
  window.loudest = () => {
    const samples = new Float32Array(window.analyser.fftSize);
    window.analyser.getFloatTimeDomainData(samples);
    return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  };
}

async function open(settings = {}) {
  const context = await browser.newContext({viewport: {width: 1280, height: 900}, ...settings});
  const page = await context.newPage();
  const said = [], asked = [];
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('request', (request) => { if (!request.url().startsWith('file:')) asked.push(request.url()); });
  await page.addInitScript(meter);
  await page.goto(pathToFileURL(path.resolve(file)).href);
  await page.waitForSelector('html[data-ready=yes]');
  return {page, said, asked, close: () => context.close()};
}
const tick = (page) => page.evaluate(() => Number(document.documentElement.dataset.tick));
const visibleSpots = (page) => page.$$eval('.bar svg:not([hidden]) .c[tabindex="0"]', (spots) => spots.map((s) => s.getAttribute('aria-label')));

test('opens from the disk without a word on the console and without the network', async () => {
  const {page, said, asked, close} = await open();
  const refused = await page.evaluate(() => new Promise((resolve) => {
    document.addEventListener('securitypolicyviolation', (event) => resolve(event.effectiveDirective));
    fetch('https://example.invalid/').catch(() => {});
    setTimeout(() => resolve('allowed'), 2000);
  }));
  assert.equal(refused, 'connect-src');
  said.splice(0, said.length, ...said.filter((line) => !line.includes('example.invalid')));  // our own attempt
  assert.deepEqual(said, []);
  assert.deepEqual(asked.filter((url) => !url.includes('example.invalid')), []);
  if (wantedTitle !== null) {
    assert.equal(await page.textContent('h1'), wantedTitle);
    assert.equal(await page.title(), wantedTitle.replace(/\s+/g, ' ').trim());
  }
  await close();
});

test('stays below 200 KB', () => {
  assert.ok(statSync(file).size < 200 * 1000, `${statSync(file).size} bytes`);
});

test('plays, sounds, pauses where it is, and is silent with every voice muted', async () => {
  const {page, said, close} = await open();
  await page.click('.play');
  await page.waitForFunction(() => Number(document.documentElement.dataset.tick) > 900);
  await page.waitForFunction(() => window.loudest() > 0.01);
  await page.click('summary');
  for (const box of await page.$$('input[id^=voice-]')) await box.uncheck();
  await page.waitForFunction(() => window.loudest() < 0.0005);
  await page.click('.play');
  const stopped = await tick(page);
  await page.waitForTimeout(250);
  assert.equal(await tick(page), stopped);
  assert.equal(await page.textContent('.play'), 'Play');
  assert.deepEqual(said, []);
  await close();
});

test('a loop comes round and stays inside its section; another version goes on at the same place', async () => {
  const {page, close} = await open();
  const value = await page.$$eval('#loop option', (options) => options[Math.min(2, options.length - 2)].value);
  const [first, last] = value.split('-').map(Number);
  const bars = await page.evaluate(() => JSON.parse(document.querySelector('#sound').textContent).bars);
  const from = bars[first][0], to = bars[last][0] + bars[last][1];
  await page.selectOption('#loop', value);
  await page.fill('#tempo', await page.getAttribute('#tempo', 'max'));
  await page.evaluate(() => {
    window.ticks = [];
    new MutationObserver(() => window.ticks.push(Number(document.documentElement.dataset.tick)))
      .observe(document.documentElement, {attributes: true, attributeFilter: ['data-tick']});
  });
  await page.click('.play');
  await page.waitForFunction(() => window.ticks.some((now, i) => i > 0 && now < window.ticks[i - 1] - 400),
                             null, {timeout: 60000});
  const before = await tick(page);
  const radios = await page.$$('input[name=hear]');
  await radios[0].check();
  await page.waitForTimeout(200);
  const now = await tick(page);
  assert.ok(now >= from && now <= to && (now > before || now < before - 400), `${before} then ${now}`);
  const ticks = await page.evaluate(() => window.ticks);
  assert.ok(ticks.every((at) => at >= from && at <= to), `${from} to ${to}: ${Math.min(...ticks)} to ${Math.max(...ticks)}`);
  await close();
});

test('the tab key goes from the desk through the changes in the order of the bars, and reasons appear', async () => {
  const {page, close} = await open();
  const labels = await visibleSpots(page);
  assert.ok(labels.length > 0, 'a page to compare has changes');
  const seen = [];
  for (let i = 0; i < 20 + labels.length && seen.length < labels.length; ++i) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const element = document.activeElement;
      return {spot: element.matches('.c'), id: element.id || element.className.baseVal || element.className,
              label: element.getAttribute('aria-label'), why: document.querySelector('#why').textContent};
    });
    if (i === 0) assert.equal(at.id, 'play');
    if (!at.spot) { assert.equal(seen.length, 0, `${at.id} stands between two changes`); continue; }
    seen.push(at.label);
    assert.ok(at.why.startsWith(at.label.match(/, (.+?): /)[1] + ':'), `${at.label} shows ${at.why.slice(0, 40)}`);
    assert.ok(at.why.includes('Outside:'));
  }
  assert.deepEqual(seen, labels);
  await page.keyboard.press('Escape');
  assert.ok(!(await page.textContent('#why')).includes('Outside:'));
  await close();
});

test('reasons appear under the mouse and under a finger', async () => {
  const mouse = await open();
  await mouse.page.hover('.bar svg:not([hidden]) .c[tabindex="0"] .s');
  assert.match(await mouse.page.textContent('#why'), /Outside:/);
  await mouse.page.mouse.move(2, 2);
  assert.doesNotMatch(await mouse.page.textContent('#why'), /Outside:/);
  await mouse.close();
  const touch = await open({hasTouch: true, isMobile: true, viewport: {width: 390, height: 844}});
  await touch.page.tap('.bar svg:not([hidden]) .c[tabindex="0"] .s');
  assert.match(await touch.page.textContent('#why'), /Outside:/);
  await touch.close();
});

test('every instrument reads the symbols in its own key', async () => {
  const {page, close} = await open();
  // Semitones from the sounding to the read name: from the published transpositions of the instruments.
  const up = {'Concert': 0, 'Tenor Sax': 2, 'Alto Sax': 9, 'Horn in F': 7};
  const names = () => page.$$eval('text[data-i]', (texts) => texts.map((text) => text.textContent));
  const pitchClass = (name) => {
    const signs = name.slice(1).match(/^[♭♯]*/)[0];
    return (({C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11})[name[0]] + [...signs].reduce((sum, s) => sum + (s === '♯' ? 1 : -1), 0) + 24) % 12;
  };
  const concert = await names();
  assert.ok(concert.length > 8);
  for (const [instrument, semitones] of Object.entries(up)) {
    await page.evaluate((label) => {
      const select = document.querySelector('#reader');
      select.selectedIndex = [...select.options].findIndex((option) => option.textContent === label);
      select.dispatchEvent(new Event('change'));
    }, instrument);
    const read = await names();
    concert.forEach((name, i) => {
      if (name === 'N.C.') return assert.equal(read[i], name);
      assert.equal(pitchClass(read[i]), (pitchClass(name) + semitones) % 12, `${name} for ${instrument}: ${read[i]}`);
      const rest = (text) => text.slice(1).replace(/^[♭♯]*/, '').replace(/\/.*$/, '');
      if (!/^\/|\/[0-9]/.test(name)) assert.equal(rest(read[i]), rest(name));
    });
  }
  await close();
});

test('keys: p plays, digits choose what is heard, arrows go bar by bar', async () => {
  const {page, close} = await open();
  await page.keyboard.press('ArrowRight');
  const bars = await page.evaluate(() => JSON.parse(document.querySelector('#sound').textContent).bars);
  assert.equal(await tick(page), bars[1][0]);
  await page.keyboard.press('0');
  assert.equal(await page.isChecked('#hear-0'), true);
  await page.keyboard.press('p');
  await page.waitForFunction((from) => Number(document.documentElement.dataset.tick) > from + 200, bars[1][0]);
  await page.keyboard.press('p');
  assert.equal(await page.textContent('.play'), 'Play');
  await close();
});

test('keys work after a click on a button, and every loop can be ended where it was chosen', async () => {
  const {page, close} = await open();
  await page.click('.play');
  await page.keyboard.press('p');
  assert.equal(await page.textContent('.play'), 'Play');
  const chosen = () => page.$eval('#loop', (select) => select.selectedOptions[0].textContent);
  await page.selectOption('#loop', {index: 1});
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press('o');
  assert.equal(await chosen(), 'off');
  await page.focus('.bar svg:not([hidden]) .c[tabindex="0"]');
  await page.click('.here');
  assert.match(await page.textContent('#looped'), /^Loop: /);
  assert.equal(`Loop: ${await chosen()}`, await page.textContent('#looped'));
  await page.selectOption('#loop', '');
  assert.equal(await page.textContent('#looped'), '');
  await close();
});

/** When the first `count` notes of the melody start on the clock of the sound. */
async function starts(page, count) {
  await page.waitForFunction((many) => window.starts.length >= many, count);
  return page.evaluate((many) => window.starts.slice(0, many), count);
}
/** A page that plays twice as fast as its tune, so that no one waits long: the slider scales every tempo. */
async function openTwiceAsFast() {
  const opened = await open();
  await opened.page.evaluate(() => {
    window.starts = [];
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (at) {
      if (this.type === 'sawtooth') window.starts.push(at);  // the melody's
      return start.call(this, at);
    };
  });
  const beats = await opened.page.evaluate(() => JSON.parse(document.querySelector('#sound').textContent).clocks[0].beats);
  await opened.page.fill('#tempo', String(2 * beats));
  return opened;
}
function assertSeconds(heard, seconds) {
  const own = heard.map((at) => (at - heard[0]) * 2);
  own.forEach((at, i) => assert.ok(Math.abs(at - seconds[i]) < 0.02, `${own} is not ${seconds}`));
}

test('plays in its own time: swings from the first full bar on, leaves triplets alone, follows tempo and feel',
     {skip: !wanted.onsets}, async () => {
  const {page, close} = await openTwiceAsFast();
  await page.click('.play');
  assertSeconds(await starts(page, wanted.onsets.length), wanted.onsets);
  await close();
});

test('in its own time with more swing: what is even stays even', {skip: !wanted.wide}, async () => {
  const {page, close} = await openTwiceAsFast();
  await page.click('summary');
  await page.fill('#swing', await page.getAttribute('#swing', 'max'));
  await page.click('.play');
  assertSeconds(await starts(page, wanted.wide.length), wanted.wide);
  await close();
});

test('the swing slider scales all rows in one proportion', {skip: !wanted.swings}, async () => {
  const {page, close} = await openTwiceAsFast();
  await page.click('summary');
  const hear = (row) => page.check(`#hear-${row}`, {force: true});
  for (const {row, to, shown} of wanted.swings) {
    if (row !== undefined) {
      await hear(row);
      await page.fill('#swing', String(to));
    }
    for (const [other, swing] of shown.entries()) {
      await hear(other);
      assert.equal(Number(await page.inputValue('#swing')), swing, `row ${other}`);
      assert.equal(await page.textContent('#swing-out'), `${swing} %`);
      await page.evaluate(() => { window.starts.length = 0; });
      await page.click('.bar .place');
      await page.click('.play');
      const [down, off, next] = await starts(page, 3);
      await page.click('.play');
      const fell = 100 * (off - down) / (next - down);
      assert.ok(Math.abs(fell - swing) < 1, `row ${other}: the off-beat falls on ${fell}, not ${swing}`);
    }
  }
  await close();
});

test('a loop in its own time lasts as long as its bars', {skip: !wanted.loops}, async () => {
  for (const [section, seconds] of Object.entries(wanted.loops)) {
    const {page, close} = await openTwiceAsFast();
    const option = await page.$$eval('#loop option', (options, name) => {
      const found = options.find((one) => one.textContent === name);
      return found.value;
    }, section);
    await page.selectOption('#loop', option);
    const [first, last] = option.split('-').map(Number);
    const notes = await page.evaluate(([from, to]) => {
      const data = JSON.parse(document.querySelector('#sound').textContent);
      let at = 0, count = 0;
      data.rows[0][0].forEach((value, i) => {
        if (i % 4 !== 0) return;
        at += value;
        if (at >= data.bars[from][0] && at < data.bars[to][0] + data.bars[to][1]) ++count;
      });
      return count;
    }, [first, last]);
    await page.click('.play');
    const heard = await starts(page, 2 * notes);
    for (let i = 0; i < notes; ++i) {
      const round = (heard[notes + i] - heard[i]) * 2;
      assert.ok(Math.abs(round - seconds) < 0.02, `${section}: note ${i} comes again after ${round}, not ${seconds}`);
    }
    await close();
  }
});

test('the strip says where tempo or feel change, in its own time', {skip: !wanted.places}, async () => {
  const {page, close} = await open();
  assert.deepEqual(await page.$$eval('.bar .place', (places) => places.map((one) => one.textContent)), wanted.places);
  await close();
});

for (const colorScheme of ['light', 'dark']) {
  test(`nothing serious for a screen reader or for weak eyes, ${colorScheme}`, async () => {
    const {page, close} = await open({colorScheme});
    await page.click('summary');
    await page.focus('.bar svg:not([hidden]) .c[tabindex="0"]');
    await page.evaluate(axeSource);
    const found = await page.evaluate(() => window.axe.run(document, {resultTypes: ['violations']}));
    const serious = found.violations.filter((one) => ['serious', 'critical'].includes(one.impact));
    assert.deepEqual(serious.map((one) => `${one.id}: ${one.nodes[0].html.slice(0, 120)}`), []);
    assert.ok(found.passes.length > 15, 'the rules did run');
    await close();
  });
}

for (const [name, width, height] of [['phone', 390, 844], ['laptop', 1366, 768], ['projector', 1920, 1080]]) {
  test(`fits a ${name}: nothing runs out of the window, no symbols run into each other`, async () => {
    const {page, close} = await open({viewport: {width, height}});
    if (pictures) {
      await page.screenshot({path: path.join(pictures, `${name}.png`), fullPage: true});
      await page.focus('.bar svg:not([hidden]) .c[tabindex="0"]');
      await page.screenshot({path: path.join(pictures, `${name}-window.png`)});
    }
    await page.check('#all', {force: true}).catch(() => page.evaluate(() => document.querySelector('#all').click()));
    assert.ok(await page.evaluate(() => document.scrollingElement.scrollWidth <= innerWidth));
    const clashes = await page.evaluate(() => {
      const found = [];
      for (const svg of document.querySelectorAll('.bar svg')) {
        const boxes = [...svg.querySelectorAll('.s')].map((text) => [text.textContent, text.getBoundingClientRect()]);
        boxes.forEach(([name, box], i) => {
          const edge = i + 1 < boxes.length ? boxes[i + 1][1].left : svg.getBoundingClientRect().right + 10;
          if (box.right > edge) found.push(`${svg.closest('.bar').dataset.place} ${name}`);
        });
      }
      return found;
    });
    assert.deepEqual(clashes, []);
    await close();
  });
}

test('prints on one page', async () => {
  const {page, close} = await open();
  for (const format of ['A4', 'Letter']) {
    const pdf = await page.pdf({format, preferCSSPageSize: format === 'A4', margin: format === 'A4' ? undefined : {top: '9mm', bottom: '9mm', left: '9mm', right: '9mm'},
                                path: pictures ? path.join(pictures, `print-${format}.pdf`) : undefined});
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
    assert.equal(pages.length, 1, format);
  }
  await close();
});
