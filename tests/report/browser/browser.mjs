// SPDX-License-Identifier: Apache-2.0
// The browser of the tests, and reports that were written for them. Run in a folder that holds
// node_modules and pages/NAME/{report.html,hinge.json}.
import fs from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';

const require = createRequire(path.join(process.cwd(), 'tests.js'));
const {chromium} = require('playwright-core');
export const axeSource = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

export const fileOf = (name) => path.join(process.cwd(), 'pages', name, 'report.html');
export const hingeOf = (name) =>
    JSON.parse(fs.readFileSync(path.join(process.cwd(), 'pages', name, 'hinge.json'), 'utf8'));
/// Shows the solid and waits until it is drawn.
export async function showSolid(page) {
  await page.$eval('#solid', (canvas) => canvas.scrollIntoView({block: 'center'}));
  await page.waitForFunction(() => document.getElementById('solid').dataset.drawn);
  await settle(page);
}

/// All reports: with hinges in mm and in inches, without one, one that fails, one that cannot move.
export const kNames =
    ['sample_chest', 'jewellery_casket', 'barrel_chest', 'sample_chest_tight', 'given', 'stuck'];

const start = (...args) => chromium.launch({
  executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
  args: [
    '--disable-background-networking',
    ...args,
    ...(process.getuid() === 0 ? ['--no-sandbox'] : []),
  ],
});
let browser = null, bare = null;
export async function launch() {
  browser ??= await start(
      '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist');
  return browser;
}
/// One that has no WebGL.
export async function launchWithoutWebgl() {
  bare ??= await start('--disable-3d-apis');
  return bare;
}
export async function close() {
  await browser?.close();
  await bare?.close();
  browser = bare = null;
  kept.clear();
}

/// Opens a report, as somebody who wants little motion: then the lid does not open by itself.
/// `page.faults` collects console messages, errors and requests that leave the
/// page.
export async function open(name, {width = 1300, height = 900, ...wish} = {}, other = null) {
  const context = await (other ?? await launch()).newContext(
      {viewport: {width, height}, reducedMotion: 'reduce', ...wish});
  const page = await context.newPage();
  page.faults = [];
  const own = 'file://' + fileOf(name);
  page.on('console', (message) => page.faults.push(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => page.faults.push(`error: ${error.message}`));
  page.on('request', (request) => {
    if (request.url() !== own && !request.url().startsWith('data:')) {
      page.faults.push(`request: ${request.url()}`);
    }
  });
  await page.goto(own);
  await page.waitForFunction(() => document.querySelector('#section path'));
  return page;
}

const kept = new Map();
/// A report's page that stays open from test to test, given another size and other colours as a
/// window is: to load it anew takes longer than most checks. Its first hinge and slice are shown
/// again and its lid stands where it stood at first. For tests that change no more than these;
/// they leave the page open.
export async function at(name, {width = 1300, height = 900, ...media} = {}) {
  if (!kept.has(name)) {
    const page = await open(name);
    const first = await page.evaluate(() => document.getElementById('theta')?.value);
    kept.set(name, {page, first});
  }
  const {page, first} = kept.get(name);
  await page.setViewportSize({width, height});
  await page.emulateMedia({colorScheme: 'light', reducedMotion: 'no-preference', ...media});
  await page.evaluate(() => {
    for (const first of ['.control .pick', '[data-slice="arms"]'])
      document.querySelector(first)?.click();
    scrollTo(0, 0);
    document.activeElement.blur();
  });
  if (first !== undefined) await setTheta(page, first);
  await settle(page);
  return page;
}
/// Until what follows from a change of size is drawn.
export const settle = (page) => page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

/// Moves the slider as a hand does.
export const setTheta = (page, theta) => page.evaluate((value) => {
  const slider = document.getElementById('theta');
  slider.value = value;
  slider.dispatchEvent(new Event('input', {bubbles: true}));
}, theta);

export const degrees = (rad) => rad * 180 / Math.PI;
export const radians = (deg) => deg * Math.PI / 180;
