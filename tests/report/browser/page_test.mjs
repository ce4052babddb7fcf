// SPDX-License-Identifier: Apache-2.0
// Layout, legibility and accessibility, from a narrow telephone to a large screen; and paper.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import test, {after} from 'node:test';

import {at, axeSource, close, fileOf, kNames, launch, open, setTheta} from './browser.mjs';

after(close);

const kWidths = [320, 360, 800, 1600, 2560];

// Every line of text with its box, by what it stands in.
const faultsOfText = (page) => page.evaluate(() => {
  const faults = [], lines = [];
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide) {
    faults.push(`the page is ${document.documentElement.scrollWidth} px wide on ${wide}`);
  }
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode, parent = node.parentElement;
    if (!node.textContent.trim() || parent.closest('script, noscript, .skip, .control.lid'))
      continue;
    if (!parent.checkVisibility()) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const svg = parent.closest('svg');
    for (const r of svg ? [parent.getBoundingClientRect()] : range.getClientRects()) {
      if (r.width < 0.5) continue;
      lines.push({
        text: node.textContent.trim().slice(0, 40),
        svg,
        parent,
        x0: r.left,
        x1: r.right,
        y0: r.top,
        y1: r.bottom
      });
    }
  }
  for (const line of lines) {
    const frame =
        (line.svg || line.parent.closest('pre, button, td, th, li, dd, section') || document.body)
            .getBoundingClientRect();
    if (line.x0 < frame.left - 1 || line.x1 > frame.right + 1) {
      faults.push(`"${line.text}" stands out of its ${line.svg ? 'figure' : 'frame'}`);
    }
    if (line.svg && (line.y0 < frame.top - 1 || line.y1 > frame.bottom + 1)) {
      faults.push(`"${line.text}" stands out of its figure`);
    }
  }
  lines.sort((a, b) => a.y0 - b.y0);
  for (let i = 0; i < lines.length; ++i) {
    for (let k = i + 1; k < lines.length && lines[k].y0 < lines[i].y1; ++k) {
      const [a, b] = [lines[i], lines[k]];
      // Lines of one text may share the leading between them, not more.
      const over = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
      const under = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
      const clear = a.svg ? 1.5 : 0.35 * Math.min(a.y1 - a.y0, b.y1 - b.y0);
      if (over > 1 && under > clear) faults.push(`"${a.text}" and "${b.text}" overlap`);
    }
  }
  return {faults: [...new Set(faults)], lines: lines.length};
});

// Boxes of all text, to compare two pages by.
const placesOfText = (page) => page.evaluate(() => {
  const places = [], walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const range = document.createRange();
    range.selectNodeContents(walker.currentNode);
    const r = range.getBoundingClientRect();
    const box = [r.left + scrollX, r.top + scrollY, r.right + scrollX, r.bottom + scrollY];
    const text = walker.currentNode.textContent.trim().slice(0, 40);
    if (r.width > 0) places.push(`${text} ${box.map(Math.round)}`);
  }
  return places;
});

test('a page that was given another size looks like one that was opened at it', async () => {
  for (const width of [320, 1600]) {
    const kept = await at('sample_chest', {width}), fresh = await open('sample_chest', {width});
    const places = await placesOfText(fresh);
    assert.ok(places.length > 200, `${places.length} texts`);
    assert.deepEqual(await placesOfText(kept), places, `${width} px`);
    await fresh.context().close();
  }
});

test('no text leaves its frame or meets another, at any width and angle', async () => {
  let looked = 0;
  for (const name of kNames) {
    for (const width of kWidths) {
      const page = await at(name, {width});
      const last =
          await page.$eval('body', () => Number(document.getElementById('theta')?.max ?? 0));
      for (const share of last > 0 ? [0, 0.15, 0.5, 0.85, 1] : [0]) {
        if (last > 0) await setTheta(page, share * last);
        const {faults, lines} = await faultsOfText(page);
        assert.deepEqual(faults, [], `${name} at ${width} px, ${share} open`);
        assert.ok(lines > 60, `only ${lines} lines of text`);
        ++looked;
      }
    }
  }
  assert.ok(looked > 100);
});

test('a number stays on one line with its unit in every table', async () => {
  for (const name of kNames) {
    for (const width of [320, 360, 768]) {
      const page = await at(name, {width});
      const {broken, looked} = await page.evaluate(() => {
        const broken = [], number = /[\u2212-]?[\d./-]*\d[\u00a0 ](mm|in|N|lbf|%|\u00d7)(?![a-z])/g;
        let looked = 0;
        for (const cell of document.querySelectorAll('td, dd, .fact b')) {
          const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
          while (walker.nextNode()) {
            for (const match of walker.currentNode.textContent.matchAll(number)) {
              const range = document.createRange();
              range.setStart(walker.currentNode, match.index);
              range.setEnd(walker.currentNode, match.index + match[0].length);
              const tops = new Set([...range.getClientRects()].map((r) => Math.round(r.top)));
              ++looked;
              if (tops.size > 1) broken.push(match[0]);
            }
          }
        }
        return {broken, looked};
      });
      assert.deepEqual(broken, [], `${name} at ${width} px`);
      if (name === 'sample_chest') assert.ok(looked > 20, `${looked} numbers`);
    }
  }
});

test('a report is light enough to be sent', () => {
  for (const name of kNames) {
    const bytes = fs.statSync(fileOf(name)).size;
    assert.ok(bytes > 50e3 && bytes <= 1.5e6, `${name}: ${bytes} bytes`);
  }
});

test('the check of texts finds what it is to find', async () => {
  const page = await open('sample_chest', {width: 800});
  assert.deepEqual((await faultsOfText(page)).faults, []);
  await page.addStyleTag(
      {content: '.figures b { white-space: nowrap; font-size: 9rem !important; }'});
  assert.ok((await faultsOfText(page)).faults.some((f) => f.includes('stands out')));
  await page.evaluate(() => {
    const [a, b] = document.querySelectorAll('#gap-curve text');
    a.setAttribute('x', b.getAttribute('x'));
    a.setAttribute('y', b.getAttribute('y'));
  });
  assert.ok((await faultsOfText(page)).faults.some((f) => f.includes('overlap')));
  await page.context().close();
});

test('no finding of axe, in both colour schemes, narrow and wide', async () => {
  for (const name of kNames) {
    for (const [width, colorScheme] of [[360, 'light'], [1600, 'dark']]) {
      const page = await at(name, {width, colorScheme});
      await page.evaluate(axeSource);
      const result = await page.evaluate(() => axe.run({resultTypes: ['violations', 'passes']}));
      const found = result.violations.map((v) => `${v.impact} ${v.id}: ${v.nodes[0].html}`);
      assert.deepEqual(found, [], `${name}, ${width} px, ${colorScheme}`);
      assert.ok(result.passes.length > 20, 'axe looked at the page');
    }
  }
});

// Axe gives up where anything lies between a text and its ground; here the grounds are plain.
test('every text stands out from its ground at least 4.5 to 1', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const page = await at('sample_chest', {colorScheme});
    const {faults, count} = await page.evaluate(() => {
      const pen = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
      const parse = (text) => {
        pen.clearRect(0, 0, 1, 1);
        pen.fillStyle = text;
        pen.fillRect(0, 0, 1, 1);
        return [...pen.getImageData(0, 0, 1, 1).data];
      };
      const light = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, weight, k) => {
        const v = c[k] / 255;
        return sum + weight * (v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4));
      }, 0);
      const groundOf = (node) => {
        for (let at = node; at; at = at.parentElement) {
          const c = parse(getComputedStyle(at).backgroundColor);
          if (c[3] === 255) return c;
        }
        return [255, 255, 255, 255];
      };
      const faults = [];
      let count = 0;
      for (const node of document.querySelectorAll('body *')) {
        if (![...node.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
        if (!node.checkVisibility() || node.closest('script, .skip')) continue;
        const style = getComputedStyle(node);
        const [a, b] =
            [light(parse(node.closest('svg') ? style.fill : style.color)), light(groundOf(node))];
        const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        ++count;
        if (contrast < 4.5)
          faults.push(`${contrast.toFixed(2)} "${node.textContent.trim().slice(0, 40)}"`);
      }
      return {faults, count};
    });
    assert.deepEqual(faults, [], colorScheme);
    assert.ok(count > 150);
  }
});

test('everything can be reached and used without a pointer, and shows where one is', async () => {
  const page = await open('sample_chest', {width: 800});
  const wanted = await page.$$eval(
      'a[href], button, input, summary, pre',
      (all) => all.filter((n) => n.checkVisibility()).length);
  const seen = new Set();
  for (let i = 0; i < wanted + 5; ++i) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const node = document.activeElement, style = getComputedStyle(node);
      const all = [...document.querySelectorAll('*')];
      return {
        body: node === document.body,
        index: all.indexOf(node),
        name: node.id || node.textContent.slice(0, 20),
        outline: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2
      };
    });
    if (at.body || seen.has(at.index)) break;
    assert.ok(at.outline, `${at.name} does not show that it has the focus`);
    seen.add(at.index);
  }
  assert.ok(seen.size >= wanted, `${seen.size} of ${wanted}`);
  await page.context().close();
});

test('targets are large enough for a finger', async () => {
  const page = await open('sample_chest', {width: 360, hasTouch: true});
  const small = await page.$$eval(
      'button, input[type=range], summary',
      (all) => all.filter((n) => n.checkVisibility())
                   .map((n) => [n.id || n.textContent.trim(), n.getBoundingClientRect()])
                   .filter(([, r]) => r.width < 32 || r.height < 32)
                   .map(([name, r]) => `${name}: ${r.width} by ${r.height}`));
  assert.deepEqual(small, []);
  await page.context().close();
});

test(
    'a finger on the slider moves the lid, and the solid does not stop the page from scrolling',
    async () => {
      const page = await open('sample_chest', {width: 360, hasTouch: true, isMobile: true});
      const slider = await page.$('#theta');
      await slider.scrollIntoViewIfNeeded();
      const box = await slider.boundingBox();
      await page.touchscreen.tap(box.x + 0.8 * box.width, box.y + box.height / 2);
      const theta = await page.$eval('#theta', (s) => Number(s.value) / Number(s.max));
      assert.ok(Math.abs(theta - 0.8) < 0.08, `${theta}`);
      const says = await page.textContent('#theta-says');
      assert.match(says, /^7\d\.\d\u00b0, gap/);
      assert.equal(await page.$eval('#solid', (c) => getComputedStyle(c).touchAction), 'pan-y');
      await page.context().close();
    });

// On which page of a PDF each word stands, and where.
function wordsOf(file) {
  const xml = execFileSync('pdftotext', ['-bbox', file, '-'], {maxBuffer: 1 << 26}).toString();
  const words = [];
  let page = 0, size = null;
  for (const line of xml.split('\n')) {
    const sheet = line.match(/<page width="([\d.]+)" height="([\d.]+)"/);
    if (sheet) {
      ++page;
      size = [Number(sheet[1]), Number(sheet[2])];
    }
    const word = line.match(
        /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)<\/word>/);
    if (word) words.push({page, size, box: word.slice(1, 5).map(Number), text: word[5]});
  }
  return {words, pages: page};
}

test('on A4 and Letter every figure is whole, light, and within the margins', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'lidwright-print-'));
  for (const [name, format, colorScheme] of [
           ['sample_chest', 'A4', 'dark'], ['jewellery_casket', 'Letter', 'light'],
           ['sample_chest_tight', 'A4', 'light']]) {
    const page = await open(name, {colorScheme});
    const file = path.join(folder, `${name}.pdf`);
    await page.pdf({path: file, format, printBackground: true});
    const {words, pages} = wordsOf(file);
    assert.ok(pages >= 3 && pages <= 12, `${pages} pages`);
    for (const {box, size, text, page: number} of words) {
      const margin = 14 * 72 / 25.4 - 1;
      assert.ok(
          box[0] >= margin && box[2] <= size[0] - margin && box[1] >= margin &&
              box[3] <= size[1] - margin,
          `"${text}" on page ${number} stands in the margin`);
    }
    // Of each figure the first and the last thing written stand on one page.
    const pageOf = (...texts) => {
      for (let i = words.length - 1; i >= 0; --i) {  // headings are last where answers quote them
        if (texts.every((text, k) => words[i + k]?.text === text)) return words[i].page;
      }
      return assert.fail(`"${texts.join(' ')}" is not printed`);
    };
    if (name !== 'sample_chest_tight') {
      // The lid stands open on paper, wherever it was on the screen.
      const open = await page.$eval('#theta', (slider) => Number(slider.max) * 180 / Math.PI);
      assert.equal(pageOf('Drawn', 'at', open.toFixed(1) + '\u00b0.'), pageOf('all', 'the', 'way.'));
      assert.equal(pageOf('proven,', 'lid:'), pageOf('Gap', 'by', 'angle'));
      assert.equal(pageOf('below', '0', 'the'), pageOf('Force', 'at', 'the'));
      // The hinges side by side may go on over the page; the heading stands with the first of them.
      const first = words.findIndex(
          ({text}, i) => text === 'half' && words[i + 1]?.text === 'open');
      assert.equal(words[first].page, pageOf('Which', 'hinge?'));
    }
    // The answer asks the same further down: what counts here is the heading, which comes first.
    const heading = words.findIndex(
        (_, i) => ['Would', 'a', 'plain', 'hinge', 'do?'].every((t, k) => words[i + k]?.text === t));
    const caption = await page.textContent('#plain figcaption');
    assert.equal(pageOf(...caption.split(/[ \u00a0]/).slice(0, 5)), words[heading].page);
    const buttons = words.filter(({text}) => ['Show', 'Tightest', 'Mid-width'].includes(text));
    assert.deepEqual(buttons, [], 'buttons are not printed');
    // The solid: a picture in the paper's colours.
    const solid = await page.evaluate(() => {
      const paper = document.getElementById('solid-paper');
      const pixels = paper.getContext('2d').getImageData(0, 0, paper.width, paper.height).data;
      let filled = 0, light = 0;
      for (let i = 0; i < pixels.length; i += 4) {
        if (pixels[i + 3] < 250) continue;
        ++filled;
        light += (pixels[i] + pixels[i + 1] + pixels[i + 2]) / 765;
      }
      return {share: filled / (paper.width * paper.height), light: light / Math.max(1, filled)};
    });
    assert.ok(solid.share > 0.08, `the solid fills ${solid.share} of its picture`);
    assert.ok(solid.light > 0.5, `the solid is dark: ${solid.light}`);
    const images = execFileSync('pdfimages', ['-list', file]).toString().trim().split('\n');
    assert.ok(images.length > 2, 'the solid is in the file');
    await page.context().close();
  }
  fs.rmSync(folder, {recursive: true});
});

test('without scripts the words, figures and cautions remain', async () => {
  const context = await (await launch()).newContext({javaScriptEnabled: false});
  const page = await context.newPage();
  await page.goto('file://' + fileOf('sample_chest'));
  for (const text of [/^Yes,( as drawn,)? (it|the hidden hinge) clears all the way/, 'ISO 13854', 'from the rear face']) {
    assert.ok(await page.getByText(text).first().isVisible(), text);
  }
  await page.context().close();
});
