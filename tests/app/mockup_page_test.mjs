// SPDX-License-Identifier: Apache-2.0
// The mock-up in a browser: from an empty page to cut files with the keyboard alone and with the
// mouse alone. Run where node_modules is; PROGRAM, EXAMPLES and WORK come from the environment.
import assert from 'node:assert/strict';
import {spawn} from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import test, {after} from 'node:test';
import {isDeepStrictEqual} from 'node:util';

import {axeSource, close, launchWithoutWebgl} from '../report/browser/browser.mjs';

const programs = [];  // a test that fails leaves its own behind
after(close);
after(() => programs.forEach((program) => program.kill('SIGKILL')));
const {PROGRAM, EXAMPLES, WORK} = process.env;
fs.mkdirSync(WORK, {recursive: true});

// A mock-up that writes into a folder of its own, and its page.
async function begin(name, wish = {}) {
  const folder = path.join(WORK, name);
  fs.rmSync(folder, {recursive: true, force: true});
  const program = spawn(PROGRAM, ['mockup', '--no-browser', '--out', folder]);
  programs.push(program);
  const address = await new Promise((resolve) => {
    program.stdout.once('data', (text) => resolve(String(text).match(/http:\S+/)[0]));
  });
  const context = await (await launchWithoutWebgl()).newContext({
    viewport: {width: 1200, height: 700},
    ...wish
  });
  const page = await context.newPage();
  page.faults = [];
  page.on('console', (message) => page.faults.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => page.faults.push(`error: ${error.stack}`));
  page.on('request', (request) => {
    if (!/^(blob|data):/.test(request.url()) && !request.url().startsWith(address))
      page.faults.push(`request: ${request.url()}`);
  });
  await page.goto(address);
  await shows(page, 'no hinge yet');
  const ended = new Promise((resolve) => program.once('exit', resolve));
  return {page, context, folder, address, program, ended};
}
const shows = (page, words, where = '#says') => page.waitForFunction(
    ([w, text]) => document.querySelector(w).textContent.includes(text), [where, words],
    {timeout: 60000});
const settled = (page) => page.waitForFunction(
    () => document.querySelector('#says').dataset.outcome &&
        !document.querySelector('#says').textContent.includes('not looked at'));

// Focuses by the tabulator, as somebody without a mouse does.
async function tabTo(page, selector, key = 'Tab') {
  const there = () =>
      page.evaluate((s) => document.activeElement === document.querySelector(s), selector);
  for (let i = 0; i < 120; ++i) {
    if (await there()) return;
    await page.keyboard.press(key);
  }
  assert.fail(`the tabulator never comes to ${selector}`);
}
// With sizes given, as by somebody with a sheet at hand: what a job leaves open is searched for
// several times over. These hold whoever leans on the lid, or it would not be called clear.
const kMeasures = {
  'case-width': '340',
  'case-depth': '22 cm',
  'lid-crown': '1-1/2 in',
  'arms-width': '10 mm',
  'arms-thickness': '3',
  'arms-material': 'aluminium',
};
// Given pivots are only judged, so that nothing is searched for long.
async function takePinned(page, room) {
  const job = JSON.parse(fs.readFileSync(path.join(EXAMPLES, 'sample_chest.json'), 'utf8'));
  job.pivots = {case_a: [17.5, -53], case_b: [40.5, -8], lid_a: [86.5, -52.5], lid_b: [106.5, -0.5]};
  Object.assign(job.arms, {thickness: 2, material: 'aluminium', bushing: 5, eye: 9});
  Object.assign(job.room, room);
  const file = path.join(WORK, 'pinned.json');
  fs.writeFileSync(file, JSON.stringify(job));
  await page.setInputFiles('#load', file);
  await shows(page, 'sample chest', '#title');
}
// The job as the page gives it away comes to have these lists, once all that was typed has arrived.
async function jobHas(page, {poses, contents}) {
  for (let tries = 40; tries >= 0; --tries) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#job-file')]);
    const job = JSON.parse(fs.readFileSync(await download.path(), 'utf8'));
    const lists = [job.poses, job.contents];
    if (!tries) assert.deepEqual(lists, [poses, contents]);
    if (isDeepStrictEqual(lists, [poses, contents])) return;
    await page.waitForTimeout(100);
  }
}
const valueIs = (page, selector, value) => page.waitForFunction(
    ([s, v]) => document.querySelector(s)?.value === v, [selector, value]);
// Where points of the box are on the screen now.
async function onScreen(page) {
  const view = await page.$eval('#section', (svg) => {
    const {x, y, width} = svg.getBoundingClientRect();
    const {a, e, f} = svg.querySelector('g').transform.baseVal.consolidate().matrix;
    return {x, y, a, e, f, k: width / svg.viewBox.baseVal.width};
  });
  return (x, y) => [view.x + view.k * (view.e + view.a * x), view.y + view.k * (view.f - view.a * y)];
}
const middleOf = (page, selector) => page.$eval(selector, (node) => {
  const {x, y, width, height} = node.getBoundingClientRect();
  return [x + width / 2, y + height / 2];
});
async function dragBy(page, from, to) {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
  await page.mouse.move(...to);
  await page.mouse.up();
}
function checkFiles(folder) {
  for (const file of ['job.json', 'hinge.json', 'report.html', 'templates.pdf', '.lidwright'])
    assert.ok(fs.existsSync(path.join(folder, file)), file);
  assert.ok(fs.readdirSync(path.join(folder, 'cut')).filter((n) => n.endsWith('.dxf')).length > 8);
}

test('the keyboard alone leads from an empty page to cut files', async () => {
  const {page, folder, ended, context} = await begin('by_keyboard');
  for (const [id, text] of Object.entries(kMeasures)) {
    await tabTo(page, `#field-${id}`);
    await page.keyboard.press('Control+A');
    await page.keyboard.type(text);
  }
  await tabTo(page, '#find', 'Shift+Tab');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#so-far li svg .arm', {timeout: 60000});  // while it goes on
  assert.match(await page.textContent('#so-far li'), /behind \d/);
  await shows(page, 'clear: lid, arms and parts');
  assert.equal(await page.$$eval('#so-far li', (items) => items.length), 0);
  const before = await page.inputValue('#lid_b-x');
  const jump = async (to) => {
    await tabTo(page, `nav a[href="#${to}"]`, 'Shift+Tab');
    await page.keyboard.press('Enter');
  };
  await jump('swing');
  await tabTo(page, '[data-pivot=lid_b]');
  await page.keyboard.press('ArrowRight');
  await page.waitForFunction((x) => document.querySelector('#lid_b-x').value !== x, before);
  assert.equal(Number(await page.inputValue('#lid_b-x')), Number(before) + 0.5);
  await page.waitForFunction(() => document.querySelectorAll('#section .arm').length > 1);
  await page.keyboard.press('Control+Z');
  await page.waitForFunction((x) => document.querySelector('#lid_b-x').value === x, before);
  await tabTo(page, '#undo', 'Shift+Tab');
  await jump('take');
  await tabTo(page, '#save');
  await page.keyboard.press('Enter');
  await shows(page, 'files are written to', '#saved');
  checkFiles(folder);
  await page.reload();
  await tabTo(page, '#end');
  const asked = performance.now();
  await page.keyboard.press('Enter');
  assert.equal(await ended, 0);
  const took = performance.now() - asked;
  assert.ok(took < 8000, `the program ends ${took} ms after it was asked to`);
  assert.deepEqual(page.faults, []);
  await context.close();
});

test('the mouse drags a pivot, and what was not saved is there after a reload', async () => {
  const {page, address, program, ended, context} = await begin('by_mouse');
  await page.setInputFiles('#load', path.join(EXAMPLES, 'sample_chest.json'));
  await shows(page, 'sample chest', '#title');
  await page.click('#place');
  await settled(page);
  const middle = async () => {
    const b = await page.locator('[data-pivot=lid_b] .grip').boundingBox();
    return [b.x + b.width / 2, b.y + b.height / 2];
  };
  await page.$eval('[data-pivot=lid_b]', (node) => node.scrollIntoView({block: 'center'}));
  const scale = await page.$eval(
      '#section > g', (g) => g.transform.baseVal.consolidate().matrix.a);
  const places = async () =>
      [await page.inputValue('#lid_b-x'), await page.inputValue('#lid_b-y')].map(Number);
  const placed = await places();
  const [x, y] = await middle(), before = await page.inputValue('#lid_b-y');
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 20; ++i) await page.mouse.move(x - 2 * i, y + i);
  await page.waitForFunction((v) => document.querySelector('#lid_b-y').value !== v, before);
  assert.ok(await page.$eval('.before', (node) => node.getAttribute('d').length > 10), 'a ghost');
  await page.mouse.up();
  await page.waitForFunction(() => !document.querySelector('#undo').disabled);
  const wanted = placed.map((mm, k) => mm + [-40, -20][k] / scale);
  await page.waitForFunction(
      (at) => ['x', 'y'].every(
          (axis, k) => Math.abs(document.querySelector(`#lid_b-${axis}`).value - at[k]) < 0.6),
      wanted, {timeout: 30000});
  await page.waitForTimeout(600);
  const value = await page.inputValue('#lid_b-y');
  await page.reload();
  await settled(page);
  assert.equal(await page.inputValue('#lid_b-y'), value);
  await page.click('#undo');
  await page.waitForFunction((v) => document.querySelector('#lid_b-y').value === v, before);
  // Another window takes over, and this one says so.
  const other = await context.newPage();
  await other.goto(address);
  await settled(other);
  await page.click('#redo');
  await page.waitForSelector('#elsewhere:not([hidden])');
  assert.deepEqual(page.faults, []);
  program.kill('SIGKILL');
  await ended;
  await other.click('#redo');
  await other.waitForSelector('#gone:not([hidden])');
  await context.close();
});

test('what lets a hinge in is a button, and measured holes are judged', async () => {
  const {page, program, ended, context} = await begin('remedied');
  await takePinned(page, {behind: 50});  // which is what they lack
  await page.click('#find');
  await page.waitForSelector('.remedies button', {timeout: 60000});
  assert.match(await page.textContent('.remedies li'), /^room behind of .* instead of 50\smm/);
  // The answer is the headline, and what can be done stands between it and the drawing.
  assert.match(await page.textContent('#says'), /^No hinge fits: room behind, short by \d/);
  assert.match(await page.textContent('#before-save'), /no arms and templates among them/);
  const [headline, button, drawing] = await page.evaluate(
      () => ['#says', '.remedies button', '#section'].map(
          (s) => document.querySelector(s).getBoundingClientRect().top));
  assert.ok(headline < button && button < drawing, `${headline}, ${button}, ${drawing}`);
  await page.click('.remedies li:first-child button');
  await page.waitForFunction(
      () => !document.querySelector('.remedies') && document.querySelector('#share').hidden &&
          document.querySelectorAll('#section .arm').length > 1,
      null, {timeout: 60000});
  const behind = Number(await page.inputValue('#field-room-behind'));
  assert.ok(behind > 50 && behind < 100, `${behind} mm behind`);
  // By the keyboard: what is found may still push the summary from under a mouse.
  await page.focus('#built summary');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#built[open]');
  await page.fill('#built-lid_b-x', '108.5 mm');
  await page.click('#look-built');
  await shows(page, 'Lid pivot of arm B: 2 mm forward of where it was to be.', '#built-off');
  await page.waitForFunction(() => document.querySelector('#shift').textContent, null, {timeout: 60000});
  assert.match(await page.textContent('#shift'), /^It would .* with the .* pivot of arm . moved by /);
  assert.equal(await page.inputValue('#lid_b-x'), '108.5');
  assert.deepEqual(page.faults, []);
  program.kill('SIGINT');
  assert.equal(await ended, 0);
  await context.close();
});

// A block by the finger, out over the walls; then smaller and elsewhere by the mouse.
async function drawBlock(page, context) {
  await page.click('#draw-block');
  let at = await onScreen(page);
  const finger = await context.newCDPSession(page);
  const touch = (type, ...points) => finger.send(
      'Input.dispatchTouchEvent', {type, touchPoints: points.map(([x, y]) => ({x, y}))});
  await touch('touchStart', at(60, -70));
  await touch('touchMove', at(80, -90));
  await shows(page, 'Block: from 60 mm to 80 mm forward of the rear face, 38 mm high.', '#hand-says');
  await touch('touchMove', at(300, -90));
  await touch('touchEnd');
  await valueIs(page, '#contents-0-front', '208');
  assert.equal(await page.inputValue('#contents-0-height'), '38');
  assert.equal(await page.getAttribute('#draw-block', 'aria-pressed'), 'false');
  // By its corner narrower and lower, by its middle along.
  await page.$eval('#section', (svg) => svg.scrollIntoView({block: 'center'}));
  at = await onScreen(page);
  await dragBy(page, at(208, -70), at(150, -80));
  await valueIs(page, '#contents-0-front', '150');
  await dragBy(page, at(100, -95), at(110, -60));
  await valueIs(page, '#contents-0-front', '160');
  assert.equal(await page.inputValue('#contents-0-height'), '28');
}

test('the mouse draws a block and drags the lid to where it should pass, and both are found with', async () => {
  const {page, program, ended, context} = await begin('asked_by_mouse', {
    viewport: {width: 1200, height: 1000},
    hasTouch: true
  });
  await takePinned(page, {});
  await drawBlock(page, context);
  await page.click('#find');
  await shows(page, 'clear: lid, arms and parts');
  // The lid's pose where the hinge has it, and then farther back than it goes.
  await page.focus('#theta');
  await page.keyboard.press('End');
  await page.click('#add-pose');
  await shows(page, 'The lid passes 0', '#pose-rows');
  assert.equal(await page.inputValue('#poses-0-angle_deg'), '95');
  const places = () => page.$$eval('#pose-rows input', (all) => all.map((input) => input.value));
  const there = await places();
  const grip = await middleOf(page, '.chosen .ghost-lid:not(.turn) .grip');
  const at = await onScreen(page);
  await dragBy(page, grip, [grip[0] + at(-20, 0)[0] - at(0, 0)[0], grip[1]]);
  await valueIs(page, '#poses-0-at_x', String(Number(there[1]) - 20));
  await shows(page, 'violated: pose at 95');
  assert.match(await page.textContent('#pose-rows .watch'), /^The lid passes (19|20)(\.\d)? mm off\.$/);
  // Turned by its far end: the edge that it is measured at stays.
  const end = await middleOf(page, '.chosen .ghost-lid.turn .grip');
  await dragBy(page, end, [end[0] + 30, end[1]]);
  await page.waitForFunction(() => document.querySelector('#poses-0-angle_deg').value < 92);
  assert.equal(await page.inputValue('#poses-0-at_x'), String(Number(there[1]) - 20));
  await page.click('#undo');
  await valueIs(page, '#poses-0-angle_deg', '95');
  await page.click('#undo');
  await valueIs(page, '#poses-0-at_x', there[1]);
  await page.click('#find');
  await shows(page, 'clear: lid, arms and parts');
  await page.waitForSelector('#pose-rows .good');
  await jobHas(page, {
    contents: [{back: 70, front: 160, height: 28}],
    poses: [{angle_deg: 95, at: there.slice(1, 3).map(Number), point: [0, 0], within: 3}]
  });
  assert.deepEqual(page.faults, []);
  program.kill('SIGINT');
  assert.equal(await ended, 0);
  await context.close();
});

test('the keyboard alone asks for a pose and a block, and takes them back', async () => {
  const {page, program, ended, context} = await begin('asked_by_keyboard');
  const press = async (...keys) => {
    for (const key of keys) await page.keyboard.press(key);
  };
  await tabTo(page, 'nav a[href="#swing"]');
  await press('Enter');
  await tabTo(page, '#add-block');
  await press('Enter');
  await page.waitForFunction(() => document.activeElement.id === 'contents-0-back');
  await page.keyboard.type('4 cm');
  await press('Tab', 'Tab');
  await page.keyboard.type('900');
  await shows(page, 'mm out of the shut lid', '#block-rows .fault');
  assert.equal(await page.getAttribute('#contents-0-height', 'aria-invalid'), 'true');
  assert.ok(await page.isDisabled('#find'));
  await press('Control+A');
  await page.keyboard.type('4');
  await page.waitForFunction(() => !document.querySelector('#find').disabled);
  // Keys and mouse take hold of what was typed, however late the program answers.
  const slowly = async (route) => {
    await page.waitForTimeout(300);
    await route.continue().catch(() => null);  // it went when the route was taken away
  };
  await page.route('**/ask', slowly);
  await press('Control+A');
  await page.keyboard.type('47');
  await tabTo(page, '.block-body', 'Shift+Tab');
  await press('Shift+ArrowRight', 'ArrowUp');
  await valueIs(page, '#contents-0-height', '48');
  await valueIs(page, '#contents-0-back', '50');
  await tabTo(page, '#contents-0-height');
  await page.$eval('.block-body', (node) => node.scrollIntoView({block: 'center'}));
  await press('Control+A');
  await page.keyboard.type('50');
  const [x, y] = await middleOf(page, '.block-body');
  await dragBy(page, [x, y], [x + 20, y]);
  await page.waitForFunction(() => document.querySelector('#contents-0-back').value > 50);
  await valueIs(page, '#contents-0-height', '50');
  await page.unroute('**/ask', slowly);
  await press('Control+Z');
  await valueIs(page, '#contents-0-back', '50');
  await press('ArrowUp');
  await valueIs(page, '#contents-0-height', '51');
  await valueIs(page, '#contents-0-back', '50');
  await tabTo(page, '.block-body ~ .block-corner ~ .block-corner');
  await press('ArrowLeft');
  await tabTo(page, '#add-pose', 'Shift+Tab');
  await press('Enter');
  await page.waitForFunction(() => document.activeElement.classList.contains('ghost-lid'));
  await press('Shift+ArrowLeft', 'Shift+ArrowLeft', 'ArrowUp', '-');
  await shows(page, 'lid at 94.5°, its lower rear edge 20 mm behind the rear face, 1 mm above', '#hand-says');
  await tabTo(page, '#poses-0-within');
  await press('Control+A');
  await page.keyboard.type('1/4 in');
  await jobHas(page, {
    contents: [{back: 50, front: 161, height: 51}],
    poses: [{angle_deg: 94.5, at: [-20, 1], point: [0, 0], within: '1/4 in'}]
  });
  // Another of the lid's points, and the lid where it was.
  await page.selectOption('#pose-rows select', 'front');
  await valueIs(page, '#poses-0-at_x', '-36.5');
  await tabTo(page, '#pose-rows button[aria-label^=Remove]');
  // Keys that came slowly are steps of their own.
  const poses = () => page.$$eval('#pose-rows .entry', (rows) => rows.length);
  for (let i = 0; i < 12 && await poses(); ++i) {
    const shown = await page.getAttribute('#job-file', 'href');
    await press('Control+Z');
    await page.waitForFunction(
        (href) => document.querySelector('#job-file').getAttribute('href') !== href, shown);
  }
  assert.equal(await poses(), 0);
  assert.equal(await page.inputValue('#contents-0-height'), '51');
  await tabTo(page, '#block-rows button');
  await press('Enter');
  await page.waitForFunction(() => !document.querySelector('#block-rows .entry'));
  assert.equal(await page.evaluate(() => document.activeElement.id), 'add-block');
  await jobHas(page, {});
  assert.deepEqual(page.faults, []);
  program.kill('SIGINT');
  assert.equal(await ended, 0);
  await context.close();
});

test('a drawing becomes a box, and where a pivot may lie is filled in behind it', async () => {
  const {page, program, ended, context} = await begin('traced');
  await page.setInputFiles('#load', path.join(EXAMPLES, 'traced_chest.svg'));
  await page.click('#from-drawing button[type=submit]');
  await shows(page, 'say the box\'s outside width', '#made');
  await page.fill('#trace-width', '32 cm');
  await page.keyboard.press('Enter');
  await shows(page, 'traced_chest.svg:', '#made');
  assert.ok(await page.isHidden('#from-drawing'));
  assert.equal(await page.inputValue('#field-case-width'), '320');
  await page.click('#place');
  await settled(page);
  await page.focus('[data-pivot=case_a]');
  await page.keyboard.press('ArrowLeft');
  await page.waitForFunction(
      () => document.querySelectorAll('.may-lie, .may-not-lie').length === 2 &&
          [...document.querySelectorAll('.may-lie, .may-not-lie')]
                  .map((p) => p.getAttribute('d').split('M').length)
                  .reduce((a, b) => a + b) > 30);
  assert.ok(await page.isVisible('#places-says'));
  assert.deepEqual(page.faults, []);
  program.kill('SIGINT');
  assert.equal(await ended, 0);
  await context.close();
});

test('nothing leaps, is written or ends unasked, and a program that is gone is told', async () => {
  const {page, program, ended, context} = await begin('asked', {viewport: {width: 1440, height: 900}});
  assert.ok(await page.isDisabled('#save') && await page.isDisabled('#pack'));
  assert.match(await page.textContent('#before-save'), /^Find a hinge first/);
  assert.deepEqual(
      await page.$$eval('nav a[aria-disabled]', (links) => links.map((link) => link.textContent)),
      ['Requirements', 'Cautions']);
  await takePinned(page, {});
  await page.click('#find');
  await shows(page, 'clear: lid, arms and parts');
  assert.equal(await page.$$eval('nav a[aria-disabled]', (links) => links.length), 0);
  await page.waitForFunction(() => {
    const edge = (selector, side) => document.querySelector(selector).getBoundingClientRect()[side];
    return edge('#says', 'top') >= 0 && edge('#section', 'bottom') <= edge('.control.lid', 'top');
  });
  // The drawing stays under the hand whatever the headline says.
  const stands = () => page.$eval('#section', (svg) => {
    const {top, height} = svg.getBoundingClientRect();
    return `${top} ${height} ${svg.querySelector('g').getAttribute('transform')}`;
  });
  const grip = await middleOf(page, '[data-pivot=lid_b] .grip'), before = await stands();
  await page.mouse.move(...grip);
  await page.mouse.down();
  await page.mouse.move(grip[0] + 30, grip[1] - 20);
  await page.waitForFunction(() => !document.querySelector('#says').textContent.startsWith('clear: lid, arms'));
  assert.equal(await stands(), before);
  await page.mouse.up();
  await settled(page);
  // A measure that cannot be read hides the hinge; once it is mended the lid stands as it stood.
  const theta = () => page.$eval('#theta', (slider) => Number(slider.value));
  await page.$eval('#theta', (slider) => {
    slider.value = 0.8;
    slider.dispatchEvent(new Event('input', {bubbles: true}));
  });
  const stood = await theta();
  assert.ok(stood > 0.7, stood);
  await page.fill('#field-lid-crown', '3 apples');
  await page.waitForFunction(() => document.querySelector('#field-lid-crown-fault').textContent);
  await page.fill('#field-lid-crown', '39');
  await page.waitForFunction(() => !document.querySelector('#find').disabled);
  assert.ok(await page.isVisible('#pivots'));
  assert.equal(await theta(), stood);
  assert.doesNotMatch(await page.textContent('#says'), /no hinge yet/);
  await settled(page);
  assert.equal(await theta(), stood);
  // A place is judged as it is typed, and what is wrong with it stays and is told there.
  await page.fill('#case_a-x', '3');
  await shows(page, 'case pivot of arm A lies too far back to be held');
  await page.fill('#case_a-x', 'abc');
  await shows(page, 'x must be a length', '#case_a-fault');
  await page.focus('#find');
  assert.equal(await page.inputValue('#case_a-x'), 'abc');
  await page.fill('#case_a-x', '17,5');
  await page.waitForFunction(() => !document.querySelector('#case_a-fault').textContent);
  await page.click('#end');
  await page.waitForSelector('#end-no:focus');
  await page.click('#end-no');
  assert.ok(await page.isHidden('#end-ask'));
  assert.deepEqual(page.faults, []);
  program.kill('SIGKILL');
  await ended;
  await page.click('#undo');
  await page.waitForSelector('#gone:not([hidden])');
  await page.evaluate(() => scrollTo(0, 900));
  assert.equal(await page.$eval('#gone', (node) => node.getBoundingClientRect().top), 0);
  assert.ok(await page.$eval('#gone-job', (link) => link.href.startsWith('blob:')));
  assert.equal(await page.$eval('#says', (node) => getComputedStyle(node).opacity), '0.45');
  await context.close();
});

test('a fault stands beside its field, and the page is accessible at every width', async () => {
  const {page, program, ended, context} = await begin('looked_at', {colorScheme: 'dark'});
  await page.fill('#field-lid-crown', '-3');
  await shows(page, 'must be from 0 to 1000 mm', '#field-lid-crown-fault');
  assert.ok(await page.isDisabled('#find'));
  await page.click('#says a');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'field-lid-crown');
  await page.fill('#field-lid-crown', '1-3/8 in');
  await page.waitForFunction(() => !document.querySelector('#find').disabled);
  await page.click('#place');
  await settled(page);
  await page.click('#add-block');
  await page.waitForSelector('#block-rows .entry');
  await page.click('#add-pose');
  await page.waitForSelector('.chosen .turn');
  for (const width of [320, 360, 1440, 2560]) {
    await page.setViewportSize({width, height: 800});
    assert.equal(
        await page.evaluate(() => document.documentElement.scrollWidth), width, `${width} px`);
  }
  const session = await context.newCDPSession(page);
  await session.send('Runtime.evaluate', {expression: axeSource});
  const found = await page.evaluate(() => axe.run());
  assert.deepEqual(found.violations.map((v) => [v.id, v.nodes.map((n) => n.html)]), []);
  program.kill('SIGINT');
  assert.equal(await ended, 0);
  await context.close();
});
