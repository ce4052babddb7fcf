// SPDX-License-Identifier: Apache-2.0
// The film plays, and at any time of it the lid is where the linkage puts it.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import test, {after} from 'node:test';

import {close, degrees, hingeOf, launch, radians} from './browser.mjs';

after(close);

const filmOf = (name) => path.join(process.cwd(), 'pages', name, 'swing.svg');
const kFilms = ['sample_chest', 'jewellery_casket', 'barrel_chest', 'given'];

async function play(name, wish = {}) {
  const context =
      await (await launch()).newContext({viewport: {width: 900, height: 800}, ...wish});
  const page = await context.newPage();
  page.faults = [];
  page.on('console', (message) => page.faults.push(message.text()));
  page.on('pageerror', (error) => page.faults.push(error.message));
  page.on('request', (request) => page.faults.push(request.url()));
  await page.goto('file://' + filmOf(name));
  page.faults.shift();  // the file itself
  return page;
}

// The lid's pivots at an opening angle, knowing nothing of the program: arm A's angle is followed
// from shut in small steps by Newton's rule on arm B's length.
function pivotsAt(p, theta) {
  const turn = ([x, y], by) =>
      [Math.cos(by) * x - Math.sin(by) * y, Math.sin(by) * x + Math.cos(by) * y];
  const minus = (a, b) => [a[0] - b[0], a[1] - b[1]], plus = (a, b) => [a[0] + b[0], a[1] + b[1]];
  const arm = minus(p.lid_a, p.case_a), coupler = minus(p.lid_b, p.lid_a);
  const length = Math.hypot(...minus(p.lid_b, p.case_b));
  const ends = (crank, lid) => {
    const a = plus(p.case_a, turn(arm, crank));
    return [a, plus(a, turn(coupler, lid))];
  };
  const miss = (crank, lid) => Math.hypot(...minus(ends(crank, lid)[1], p.case_b)) - length;
  let crank = 0;
  for (let i = 1; i <= 300; ++i) {
    const lid = theta * i / 300, h = 1e-6;
    for (let k = 0; k < 20; ++k) {
      crank -= miss(crank, lid) * 2 * h / (miss(crank + h, lid) - miss(crank - h, lid));
    }
  }
  return ends(crank, theta);
}

// As the header promises: half a second shut, 3.7 s of opening that starts and stops like a
// pendulum, 0.8 s open; then the same backwards.
function shareAt(seconds) {
  const into = seconds % 10, forward = into < 5 ? into : 10 - into;
  return (1 - Math.cos(Math.PI * Math.min(1, Math.max(0, (forward - 0.5) / 3.7)))) / 2;
}

const stopAt = (page, seconds) => page.evaluate((ms) => {
  for (const animation of document.getAnimations()) {
    animation.pause();
    animation.currentTime = ms;
  }
}, 1000 * seconds);

// Where the marked pivots are on the screen [px].
const marks = (page) => page.evaluate(() => {
  const places = {};
  for (const name of ['case-a', 'case-b', 'lid-a', 'lid-b']) {
    const all = document.querySelectorAll('circle.pivot.' + name);
    if (all.length !== 1) throw new Error(`${all.length} of ${name}`);
    const r = all[0].getBoundingClientRect();
    places[name] = [(r.left + r.right) / 2, (r.top + r.bottom) / 2];
  }
  return places;
});

test('at any time of the film both arms and the lid are where the linkage puts them', async () => {
  let looked = 0;
  for (const name of kFilms) {
    const page = await play(name), hinge = hingeOf(name), p = hinge.pivots;
    const open = radians(hinge.job.swing.open_deg);
    await stopAt(page, 0);
    const {'case-a': a0, 'case-b': b0} = await marks(page);
    const scale = Math.hypot(b0[0] - a0[0], b0[1] - a0[1]) /
        Math.hypot(p.case_b[0] - p.case_a[0], p.case_b[1] - p.case_a[1]);
    const onScreen = ([x, y]) =>
        [a0[0] + scale * (x - p.case_a[0]), a0[1] - scale * (y - p.case_a[1])];
    const mm = 96 / 25.4;  // pixels for a millimetre of paper
    for (const seconds of [0, 0.3, 0.5, 0.9, 1.37, 2.04, 2.35, 3.111, 4.0, 4.19, 4.2, 5, 6.6, 7.77,
                           8.9, 9.6, 12.35]) {
      await stopAt(page, seconds);
      const theta = shareAt(seconds) * open, expected = pivotsAt(p, theta).map(onScreen);
      const found = await marks(page);
      ['lid-a', 'lid-b'].forEach((mark, k) => {
        const off = Math.hypot(found[mark][0] - expected[k][0], found[mark][1] - expected[k][1]);
        assert.ok(off < 0.06 * mm, `${name}, ${seconds} s: ${mark} is ${off / mm} mm off`);
      });
      // The wood goes with its pivots, and arm B ends at the lid's pivot.
      const turned = await page.evaluate(() => {
        const lid = document.querySelector('g.lid path').getScreenCTM();
        const arm = document.querySelector('g.arm-b path').getScreenCTM();
        const screen = document.documentElement.getScreenCTM();
        const hole = document.querySelector('circle.pivot.lid-b');
        const closed = new DOMPoint(hole.cx.baseVal.value, hole.cy.baseVal.value);
        const end = closed.matrixTransform(arm);
        return {lid: Math.atan2(lid.b, lid.a), end: [end.x, end.y], size: screen.a};
      });
      assert.ok(Math.abs(-degrees(turned.lid) - degrees(theta)) < 0.05, `${turned.lid} ${theta}`);
      const apart = Math.hypot(turned.end[0] - expected[1][0], turned.end[1] - expected[1][1]);
      assert.ok(apart < 0.06 * mm, `${name}, ${seconds} s: arm B ends ${apart / mm} mm off`);
      // What is painted there is the pivot.
      const hit = await page.evaluate(
          ([x, y]) => document.elementFromPoint(x, y)?.getAttribute('class'), expected[0]);
      assert.equal(hit, 'pivot lid-a');
      ++looked;
    }
    assert.deepEqual(page.faults, []);
    await page.context().close();
  }
  assert.equal(looked, kFilms.length * 17);
});

test('the footer counts whole degrees and its bar grows', async () => {
  const page = await play('sample_chest');
  for (const seconds of [0.2, 1.5, 2.35, 3.3, 4.6, 6.1]) {
    await stopAt(page, seconds);
    const shown = await page.evaluate(() => {
      const pane = document.querySelector('.footer > svg');
      const screen = document.documentElement.getScreenCTM();
      const top = screen.d * pane.y.baseVal.value + screen.f;
      const bottom = top + screen.d * pane.height.baseVal.value;
      const inside = [...document.querySelectorAll('.count text')].filter((text) => {
        const r = text.getBoundingClientRect(), middle = (r.top + r.bottom) / 2;
        return middle > top && middle < bottom;
      });
      const bar = document.querySelector('.grow').getBoundingClientRect();
      return {texts: inside.map((text) => text.textContent), bar: bar.width};
    });
    const share = shareAt(seconds), theta = 95 * share;
    assert.equal(shown.texts.length, 1);
    // Steps of the film: at most 1.6 degrees in the middle, and the count holds for one of them.
    assert.ok(Math.abs(Number.parseInt(shown.texts[0]) - theta) <= 2.1,
              `${shown.texts[0]} at ${theta}`);
    const whole = await page.evaluate(
        () => document.querySelector('.footer > path').getBoundingClientRect().width);
    assert.ok(Math.abs(shown.bar / whole - share) < 0.01, `${shown.bar / whole} at ${share}`);
  }
  await page.context().close();
});

test('it plays for ever, and stands still for those who want less motion', async () => {
  const page = await play('sample_chest');
  const running = await page.evaluate(() => document.getAnimations().map((a) => {
    const t = a.effect.getComputedTiming();
    return [a.playState, t.iterations === Infinity, t.direction, t.duration];
  }));
  // Two each of lid, its plates and its pivots (with arm A, and turning), arm A, arm B, bar, count.
  assert.equal(running.length, 10);
  for (const one of running) assert.deepEqual(one, ['running', true, 'alternate', 5000]);
  assert.equal(await page.$eval('.still', (g) => getComputedStyle(g).display), 'none');
  await page.mouse.move(300, 300);
  await page.mouse.down();
  const held = await page.evaluate(() => document.getAnimations().map((a) => a.playState));
  assert.ok(held.every((state) => state === 'paused'));
  await page.mouse.up();
  await page.context().close();

  const calm = await play('sample_chest', {reducedMotion: 'reduce'});
  assert.equal(await calm.evaluate(() => document.getAnimations().length), 0);
  assert.notEqual(await calm.$eval('.still', (g) => getComputedStyle(g).display), 'none');
  const lid = await calm.$eval('g.lid path', (wood) => {
    const m = wood.getScreenCTM();
    return Math.atan2(m.b, m.a);
  });
  assert.ok(Math.abs(-degrees(lid) - 47.5) < 0.05, `${degrees(lid)}`);
  await calm.context().close();
});

test('a film in a page plays too, and is light', async () => {
  for (const name of kFilms) {
    const text = fs.readFileSync(filmOf(name), 'utf8');
    assert.ok(text.length < 300000, `${name}: ${text.length} bytes`);
    assert.doesNotMatch(text.replace('http://www.w3.org/2000/svg', ''), /http|<script|<image| id=/);
  }
  const context = await (await launch()).newContext({viewport: {width: 700, height: 600}});
  const page = await context.newPage();
  const holder = path.join(process.cwd(), 'pages', 'film.html');
  fs.writeFileSync(holder, '<!doctype html><title>film</title><img src="sample_chest/swing.svg">');
  await page.goto('file://' + holder);
  await page.waitForTimeout(1500);
  const first = await page.screenshot();
  await page.waitForTimeout(700);
  assert.ok(!first.equals(await page.screenshot()), 'nothing moves');
  await context.close();
});

test('pivots that cannot move the lid give a still that says so', async () => {
  const page = await play('stuck');
  assert.equal(await page.$eval('.lid path', (wood) => wood.getScreenCTM().b), 0);
  const note = await page.$$eval('.footer > text', (all) => all.map((text) => text.textContent));
  assert.ok(note.includes('cannot move'), note.join());
  await page.context().close();
});
