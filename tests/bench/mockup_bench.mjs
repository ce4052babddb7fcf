// SPDX-License-Identifier: Apache-2.0
// How long the mock-up takes from an event to the changed picture, in a real browser: each step of
// a drag and each letter of a measure, when arms are there again and when all is told. Run by
// tests/bench/mockup; prints milliseconds, which say something only on a machine that does nothing
// else. The frame that the browser then paints is not in them.
import {spawn} from 'node:child_process';
import path from 'node:path';

import {close, launchWithoutWebgl} from '../report/browser/browser.mjs';

const {PROGRAM, EXAMPLES, WORK} = process.env;
const kSteps = 200, kApart_ms = 25;  // of a hand that moves
const share = (sorted, part) => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
function tell(what, times) {
  const sorted = [...times].sort((a, b) => a - b);
  console.log(
      `${what}: median ${share(sorted, 0.5).toFixed(1)} ms, ` +
      `95 % ${share(sorted, 0.95).toFixed(1)} ms, of ${sorted.length}`);
}

const program = spawn(PROGRAM, ['mockup', '--no-browser', '--out', path.join(WORK, 'mockup_bench')]);
const address = await new Promise((resolve) => {
  program.stdout.once('data', (text) => resolve(String(text).match(/http:\S+/)[0]));
});
const page = await (await launchWithoutWebgl()).newPage({viewport: {width: 1440, height: 900}});
await page.goto(address);
await page.setInputFiles('#load', path.join(EXAMPLES, 'sample_chest.json'));
await page.waitForFunction(
    () => document.getElementById('title').textContent.includes('sample chest'));
// The four pivots that are typed here clear.
const kPivots = {case_a: [17.5, -53], case_b: [40.5, -8], lid_a: [86.5, -52.5], lid_b: [106.5, -0.5]};
await page.click('#place');
for (const [pivot, at] of Object.entries(kPivots)) {
  for (const [k, axis] of [[0, 'x'], [1, 'y']]) {
    await page.fill(`#${pivot}-${axis}`, String(at[k]));
    await page.keyboard.press('Enter');
  }
}
await page.waitForTimeout(3000);

const middle = () => page.$eval('[data-pivot=lid_b] .grip', (node) => {
  node.scrollIntoView({block: 'center'});
  const {x, y, width, height} = node.getBoundingClientRect();
  return [x + width / 2, y + height / 2];
});
const [x, y] = await middle();
await page.mouse.move(x, y);
await page.mouse.down();
await page.evaluate(() => window.eventTimes.length = 0);
for (let i = 1; i <= kSteps; ++i) {
  const turn = 2 * Math.PI * i / kSteps;
  await page.mouse.move(x + 12 * Math.sin(turn), y + 12 * (1 - Math.cos(turn)));
  await page.waitForTimeout(kApart_ms);
}
tell('a step of a drag, lid and gap curve', await page.evaluate(() => [...window.eventTimes]));

// From when the hand lets go: 250 ms of rest, then arms and all else.
const rested = [];
for (let i = 0; i < 5; ++i) {
  const begun = await page.evaluate(() => {
    window.restedAt = 0;
    const seen = new MutationObserver(() => {
      if (!document.body.classList.contains('moving')) window.restedAt ||= performance.now();
    });
    seen.observe(document.body, {attributes: true, attributeFilter: ['class']});
    return 0;
  });
  await page.mouse.move(x + 2 * (i % 2), y + 3);
  await page.waitForTimeout(100);
  const from = await page.evaluate(() => performance.now()) + begun;
  await page.mouse.up();
  await page.waitForFunction(() => window.restedAt > 0, null, {timeout: 20000});
  rested.push(await page.evaluate(() => window.restedAt) - from);
  await page.waitForTimeout(500);
  const at = await middle();
  await page.mouse.move(...at);
  await page.mouse.down();
}
await page.mouse.up();
tell('arms, parts, forces after the hand lets go', rested);

// A letter in the form until the box is drawn anew.
const typed = await page.evaluate(async () => {
  const field = document.getElementById('field-lid-crown'), times = [];
  const picture = document.getElementById('section');
  for (let i = 0; i < 20; ++i) {
    await new Promise((done) => setTimeout(done, 700));
    const drawn = new Promise((done) => {
      const seen = new MutationObserver(() => {
        seen.disconnect();
        done(performance.now());
      });
      seen.observe(picture, {subtree: true, childList: true, attributes: true});
    });
    const from = performance.now();
    field.value = String(40 + i % 2);
    field.dispatchEvent(new Event('input', {bubbles: true}));
    times.push(await drawn - from);
  }
  return times;
});
tell('a letter of a measure, box drawn', typed);
program.kill('SIGINT');
await close();
