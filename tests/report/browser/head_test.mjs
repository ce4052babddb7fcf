// SPDX-License-Identifier: Apache-2.0
// The first screen: what it answers, in how many and how plain words, and what it waits with.
import assert from 'node:assert/strict';
import test, {after} from 'node:test';

import {at, close, kNames, open, settle} from './browser.mjs';

after(close);

// What stands above the details: the head and the hinges to choose from, as it is read on a screen,
// block by block.
const blocksAbove = (page) => page.evaluate(() => {
  const blocks = [];
  const inline = (node) => /inline|contents/.test(getComputedStyle(node).display);
  const read = (node, parts) => {
    for (const child of node.childNodes) {
      if (child.nodeType === 3) parts.push(child.textContent);
      if (child.nodeType !== 1 || child.matches('script, style, noscript')) continue;
      if (!child.checkVisibility()) continue;
      if (inline(child)) {
        read(child, parts);
        continue;
      }
      parts.push(' ');
      const inner = [];
      read(child, inner);
      blocks.push(inner.join('').trim());
    }
  };
  for (const root of document.querySelectorAll('header, #swing, #choices, #plain')) {
    const rest = [];
    read(root, rest);
    blocks.push(rest.join('').trim());
  }
  return blocks.filter((block) => block);
});
const wordsOf = (text) => text.match(/[A-Za-z\u00c0-\u024f'\u2080]+|[\d.,/\u2212-]*\d\S*/g) || [];

// Syllables by groups of vowels, a silent e left out.
function syllablesOf(word) {
  const plain = word.toLowerCase().replace(/[^a-z]/g, '');
  const groups = plain.replace(/(?:[^laeiouy]es|[^aeiouy]ed|[^laeiouy]e)$/, 'x').match(/[aeiouy]+/g);
  return Math.max(1, groups ? groups.length : 0);
}
// The grade of Kincaid, Fishburne, Rogers and Chissom (1975). Numbers are words of one syllable.
function gradeOf(sentences) {
  const words = sentences.flatMap(wordsOf);
  const syllables = words.reduce((sum, word) => sum + (/^[a-z']/i.test(word) ? syllablesOf(word) : 1), 0);
  return 0.39 * words.length / sentences.length + 11.8 * syllables / words.length - 15.59;
}

test('the grade is that of the formula on texts whose counts are known', () => {
  // 6 words, 1 sentence, 6 syllables; and 5 words with 13 syllables: ad-mi-ra-ble (4), …
  assert.ok(Math.abs(gradeOf(['The cat sat on the mat.']) - (0.39 * 6 + 11.8 - 15.59)) < 1e-9);
  assert.equal(['hinge', 'open', 'fingers', 'tipped', 'table', 'made', 'area'].map(syllablesOf).join(),
               '1,2,2,1,2,1,2');
  assert.ok(gradeOf(['Kinematical configuration optimization necessitates parallelogram.']) > 20);
});

test('above the details stand at most 700 words, of a grade of 8 at most', async () => {
  for (const name of kNames) {
    const page = await at(name, {width: 1440});
    const blocks = await blocksAbove(page), words = blocks.flatMap(wordsOf);
    assert.ok(words.length > 40 && words.length <= 700, `${name}: ${words.length} words`);
    const head = await page.$$eval(
        '#swing .verdict > span:not([hidden]), .risks:not([hidden]) summary, .risks:not([hidden]) li p, .why p, .why li, #choices > p',
        (all) => all.filter((n) => n.checkVisibility()).map((n) => n.textContent));
    const sentences = head.flatMap((text) => text.split(/(?<=[.?!])\s+/)).filter((s) => s.trim());
    const grade = gradeOf(sentences);
    console.log(`${name}: ${words.length} words, grade ${grade.toFixed(1)}`);
    assert.ok(sentences.length >= 1 && grade <= 8, `${name}: grade ${grade} of ${sentences}`);
  }
});

test('the first screen holds the picture whole and answers what is asked first', async () => {
  for (const [width, height] of [[360, 740], [1440, 900]]) {
    for (const name of ['sample_chest', 'jewellery_casket', 'barrel_chest', 'given']) {
      const page = await at(name, {width, height});
      await page.evaluate(() => scrollTo(0, 0));
      const seen = await page.evaluate(() => {
        const whole = (node) => {
          const r = node.getBoundingClientRect();
          return r.width > 0 && r.top >= 0 && r.left >= 0 && r.bottom <= innerHeight &&
              r.right <= innerWidth;
        };
        const texts = (selector) => [...document.querySelectorAll(selector)].filter(whole).map(
            (node) => node.innerText.replace(/\s+/g, ' '));
        return {
          picture: whole(document.getElementById('section')),
          slider: whole(document.getElementById('theta')),
          sentence: texts('#swing-heading').join(),
          facts: texts('.fact summary').join('; '),
          risks: texts('.risks:not([hidden]) li'),
          all: document.querySelectorAll('.risks:not([hidden]) li').length
        };
      });
      const where = `${name} at ${width} by ${height}`;
      assert.ok(seen.picture && seen.slider, where);
      assert.match(seen.sentence, name === 'given' ? /^Not yet: / : /^Yes,( as drawn,)? (it|the hidden hinge) clears all the way\. .* off the box\.$/);
      assert.match(seen.facts, /To lift (\d[\d.]* (kg|lb|oz)|not known)/, where);
      assert.match(seen.facts, /Room behind \d[\d./-]* (mm|in) free, from its back/, where);
      assert.match(seen.facts, /Hinge 1 of \d/, where);
      assert.ok(seen.all >= (name === 'given' ? 2 : 3), where);
      assert.equal(seen.risks.length, seen.all, `${where}: ${seen.risks}`);
      assert.match(seen.risks[0], /^(danger|care|waste) /, where);
    }
  }
});

test('on paper stand all risks with their remedies, from whatever window it is printed', async () => {
  for (const width of [360, 1440]) {
    const page = await open('sample_chest', {width, height: 900});
    const remedies = () => page.$$eval(
        '.risks:not([hidden]) li', (all) => all.filter((li) => li.querySelector('p').checkVisibility()).length);
    assert.equal(await remedies(), width > 1000 ? 3 : 0);
    await page.emulateMedia({media: 'print'});
    await page.setViewportSize({width: 700, height: 900});  // as wide as paper
    for (let i = 0; i < 40 && await remedies() < 3; ++i) await page.waitForTimeout(50);
    assert.equal(await remedies(), 3);
    await page.context().close();
  }
});

test('a figure opens to the exact one at a tap', async () => {
  const page = await at('sample_chest', {width: 360, height: 740});
  const fact = page.locator('.facts:not([hidden]) .fact').first();
  assert.equal(await fact.locator('p').isVisible(), false);
  await fact.locator('summary').click();
  assert.match(await fact.locator('p').innerText(), /^At most [\d.]+\u00a0N at the front edge/);
  await fact.locator('summary').click();
});

test('the lid opens once by itself, and the solid waits until it is seen', async () => {
  const page = await open('sample_chest', {reducedMotion: 'no-preference', width: 360, height: 740});
  const values = [];
  for (let i = 0; i < 200 && (values.at(-1) ?? 0) < 1 - 1e-9; ++i) {
    values.push(await page.$eval('#theta', (slider) => slider.value / slider.max));
    await page.waitForTimeout(50);
  }
  assert.ok(values[0] < 0.5, `begins at ${values[0]}`);
  assert.ok(values.every((v, i) => i === 0 || v >= values[i - 1]), 'only opens');
  assert.ok(values.at(-1) > 1 - 1e-9, `ends at ${values.at(-1)}`);
  await page.waitForTimeout(300);
  assert.equal(await page.textContent('#play'), 'Shut');
  assert.ok(await page.$eval('#theta', (slider) => slider.value / slider.max) > 0.999, 'and once');
  assert.equal(await page.$eval('#solid', (canvas) => canvas.dataset.drawn), undefined);
  assert.deepEqual(page.faults, []);
  await page.context().close();
});

test('at the bench one step fills the screen, and ticks and place are kept', async () => {
  const page = await open('sample_chest', {width: 360, height: 740, hasTouch: true});
  await page.click('#bench-begin');
  const shown = () => page.$$eval('.step', (all) => all.flatMap((s, i) => (s.checkVisibility() ? [i] : [])));
  assert.deepEqual(await shown(), [0]);
  assert.equal(await page.isVisible('#swing'), false);
  await page.tap('.step.now .tick');
  await page.tap('#bench-next');
  assert.deepEqual(await shown(), [1]);
  const size = await page.$eval('.step.now .numbers dd', (n) => parseFloat(getComputedStyle(n).fontSize));
  assert.ok(size >= 26, `numbers of ${size} px`);
  for (const selector of ['.step.now .tick', '#bench-next', '#bench-leave']) {
    const box = await (await page.$(selector)).boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= 740 && box.height >= 38, `${selector} ${box.y}`);
  }
  await page.reload();
  assert.match(await page.textContent('#bench-begin'), /step 2/);
  assert.ok(await page.isChecked('[data-step="1"]'));
  await page.click('#bench-begin');
  assert.deepEqual(await shown(), [1]);
  await page.keyboard.press('Escape');
  assert.ok(await page.isVisible('#swing'));
  await page.click('#bench-begin');
  await page.tap('#bench-back');
  await page.tap('.step.now .tick');
  await page.tap('#bench-leave');
  assert.deepEqual(page.faults, []);
  await page.context().close();
});

test('the lid on the plain hinge is drawn beside the hidden one', async () => {
  const page = await at('sample_chest');
  await settle(page);
  const drawn = await page.evaluate(() => {
    const said = JSON.parse(document.getElementById('data').textContent).plain.picture;
    const lid = document.querySelector('#plain-picture g g').transform.baseVal.consolidate().matrix;
    const spot = document.querySelector('#plain-picture .spot');
    return {
      said,
      angle: Math.atan2(lid.b, lid.a),
      spot: spot && [spot.cx.baseVal.value, spot.cy.baseVal.value],
      arms: document.querySelectorAll('#hidden-picture .arm').length
    };
  });
  assert.ok(Math.abs(drawn.angle - drawn.said.theta) < 1e-5);
  assert.ok(drawn.said.deep > 0.5, `${drawn.said.deep} mm`);
  for (const k of [0, 1]) assert.ok(Math.abs(drawn.spot[k] - drawn.said.at[k]) < 1e-3);
  assert.ok(drawn.arms >= 2);
});
