// SPDX-License-Identifier: Apache-2.0
// The solid view: what its pixels show after many frames, and what is left where WebGL is missing.
import assert from 'node:assert/strict';
import test, {after} from 'node:test';

import {close, launchWithoutWebgl, open, setTheta, showSolid} from './browser.mjs';

after(close);

// Waits for two frames, then reads the canvas back. Wood that is seen through is not opaque, the
// hinge's pieces are: of those pixels the number tells whether the pieces are there.
const picture = (page) => page.evaluate(async () => {
  for (let i = 0; i < 2; ++i) await new Promise((next) => requestAnimationFrame(next));
  const canvas = document.getElementById('solid'), copy = document.createElement('canvas');
  [copy.width, copy.height] = [canvas.width, canvas.height];
  const pen = copy.getContext('2d');
  pen.drawImage(canvas, 0, 0);
  const pixels = pen.getImageData(0, 0, copy.width, copy.height).data;
  let solid = 0, hash = 0;
  for (let i = 0; i < pixels.length; i += 4) {
    if (pixels[i + 3] === 255) ++solid;
    hash = (hash * 31 + pixels[i] + 7 * pixels[i + 1] + 13 * pixels[i + 3]) % 2147483647;
  }
  return {solid, hash};
});

test('see through keeps showing arms and plates, frame after frame', async () => {
  for (const name of ['sample_chest', 'jewellery_casket']) {
    const page = await open(name);
    await showSolid(page);
    const spot = Number(await page.$eval('#theta', (slider) => slider.value));
    await page.click('#clear');
    const first = await picture(page);
    assert.ok(first.solid > 300, `${first.solid} pixels of the hinge`);
    for (let frame = 0; frame < 4; ++frame) {
      await setTheta(page, 0.4 + 0.2 * frame);
      const moved = await picture(page);
      assert.ok(
          moved.solid > 0.4 * first.solid,
          `${moved.solid} pixels of the hinge after ${first.solid}, frame ${frame}`);
      assert.notEqual(moved.hash, first.hash);
    }
    await setTheta(page, spot);
    assert.deepEqual(await picture(page), first, 'the same pose gives the same picture');
    await page.click('#clear');
    const closed = await picture(page);
    await page.click('#clear');
    assert.notEqual(closed.hash, first.hash);
    assert.deepEqual(await picture(page), first, 'and so after wood was solid in between');
    assert.deepEqual(page.faults, []);
    await page.context().close();
  }
});

test('where WebGL is missing nothing of the solid stays but a sentence', async () => {
  const browser = await launchWithoutWebgl();
  for (const media of ['screen', 'print']) {
    const page = await open('sample_chest', {}, browser);
    assert.equal(
        await page.evaluate(() => document.createElement('canvas').getContext('webgl')), null);
    await page.$eval('.solid', (figure) => figure.scrollIntoView());
    await page.waitForSelector('#no-solid');
    await page.emulateMedia({media});
    for (const gone of ['#solid', '#solid-paper', '.tools', '[data-turn]', '#clear']) {
      for (const node of await page.$$(gone)) {
        assert.equal(await node.isVisible(), false, `${gone} on ${media}`);
      }
    }
    assert.equal(await page.getByText('Drag to turn').isVisible(), false);
    assert.ok(await page.isVisible('#no-solid'));
    if (media === 'screen') {
      await setTheta(page, 0.5);
      assert.match(await page.textContent('#theta-says'), /^28\.6\u00b0/);
    }
    assert.deepEqual(page.faults, []);
    await page.context().close();
  }
});
