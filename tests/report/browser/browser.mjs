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
}

/// Opens a report. `page.faults` collects console messages, errors and requests that leave the
/// page.
export async function open(name, {width = 1300, height = 900, ...wish} = {}, other = null) {
  const context = await (other ?? await launch()).newContext({viewport: {width, height}, ...wish});
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

/// Moves the slider as a hand does.
export const setTheta = (page, theta) => page.evaluate((value) => {
  const slider = document.getElementById('theta');
  slider.value = value;
  slider.dispatchEvent(new Event('input', {bubbles: true}));
}, theta);

export const degrees = (rad) => rad * 180 / Math.PI;
export const radians = (deg) => deg * Math.PI / 180;
