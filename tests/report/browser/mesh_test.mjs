// SPDX-License-Identifier: Apache-2.0
// The page's own triangles, against areas and volumes worked out in other ways.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import test from 'node:test';

import {fileOf, hingeOf} from './browser.mjs';

const source =
    fs.readFileSync(new URL('../../../src/report/page/4_mesh.js.inc', import.meta.url), 'utf8')
        .split('\n')
        .slice(1, -2)
        .join('\n');
const withBox = (box) =>
    new Function('box', source + '\nreturn {triangulate, Mesh, meshOfBody, meshOfPiece};')(box);

function dataOf(name) {
  const page = fs.readFileSync(fileOf(name), 'utf8');
  const begin = '<script type="application/json" id="data">';
  const from = page.indexOf(begin) + begin.length;
  return JSON.parse(page.slice(from, page.indexOf('</script>', from)));
}
const areaOf = (ring) => {
  let sum = 0;
  for (let i = 0; i < ring.length; i += 2) {
    const k = (i + 2) % ring.length;
    sum += (ring[i] * ring[k + 1] - ring[k] * ring[i + 1]) / 2;
  }
  return sum;
};
function random(seed) {
  let state = seed;
  return () => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648;
}
// A star-shaped outline: never crosses itself.
function star(draw, n, x, y, inner, outer, way = 1) {
  const ring = [];
  for (let i = 0; i < n; ++i) {
    const a = way * 2 * Math.PI * (i + 0.8 * draw()) / n, r = inner + (outer - inner) * draw();
    ring.push(x + r * Math.cos(a), y + r * Math.sin(a));
  }
  return ring;
}

test('triangles of ragged outlines with holes cover just their area', () => {
  const {triangulate} = withBox({});
  let checked = 0;
  for (let seed = 1; seed <= 120; ++seed) {
    const draw = random(seed);
    const rings = [star(draw, 5 + seed % 60, 0, 0, 30, 100)];
    const holes = seed % 4;
    for (let h = 0; h < holes; ++h) {
      const a = 2 * Math.PI * h / Math.max(1, holes);
      rings.push(star(draw, 4 + seed % 9, 14 * Math.cos(a), 14 * Math.sin(a), 3, 8, -1));
    }
    const {points, triangles} = triangulate(rings);
    let area = 0;
    for (let i = 0; i < triangles.length; i += 3) {
      const [p, q, r] = [0, 1, 2].map((k) => points[triangles[i + k]]);
      const part = ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / 2;
      assert.ok(part > -1e-9, `seed ${seed}: a triangle is turned over`);
      area += part;
    }
    const wanted = rings.reduce((sum, ring) => sum + areaOf(ring), 0);
    assert.ok(
        Math.abs(area - wanted) < 1e-6 * wanted, `seed ${seed}: ${area} instead of ${wanted}`);
    ++checked;
  }
  assert.equal(checked, 120);
});

test('the solid lid has the volume that the lid\'s mass was worked out from', () => {
  for (const name of ['sample_chest', 'jewellery_casket', 'barrel_chest']) {
    const data = dataOf(name), hinge = hingeOf(name);
    const mesh = withBox(data.box).meshOfBody('lid');
    // Half of a mirrored lid, open at mid-width: the missing cap lies in z = 0 and adds nothing.
    const volume = mesh.volume() * (data.box.mirrored ? 2 : 1);
    const lid = hinge.hinges[0].forces.lid;
    const wanted = (lid.mass_kg - lid.hardware_kg) / lid.wood_kg_m3 * 1e9;
    assert.ok(Math.abs(volume - wanted) < 2e-3 * wanted, `${name}: ${volume} instead of ${wanted}`);
  }
});

test('sides and ends of every solid face outwards and leave no gap', () => {
  for (const name of ['sample_chest', 'barrel_chest']) {
    const {box, hinges} = dataOf(name);
    const {meshOfBody, meshOfPiece} = withBox(box);
    const meshes = [meshOfBody('case'), ...hinges[0].pieces.map(meshOfPiece)];
    for (const mesh of meshes) {
      assert.ok(mesh.volume() > 0);
      // Every normal is a unit vector and points to the triangle's front.
      const v = mesh.vertices, t = mesh.triangles;
      for (let i = 0; i < t.length; i += 3) {
        const [a, b, c] = [0, 1, 2].map((k) => v.slice(6 * t[i + k], 6 * t[i + k] + 6));
        const u = [0, 1, 2].map((k) => b[k] - a[k]), w = [0, 1, 2].map((k) => c[k] - a[k]);
        const front =
            [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]];
        const size = Math.hypot(...front);
        if (size < 1e-9) continue;
        for (const p of [a, b, c]) {
          assert.ok(Math.abs(Math.hypot(p[3], p[4], p[5]) - 1) < 1e-6);
          assert.ok((p[3] * front[0] + p[4] * front[1] + p[5] * front[2]) / size > 0.6);
        }
      }
    }
    // The arms: their area times their thickness.
    for (const piece of hinges[0].pieces) {
      const wanted = areaOf(piece.ring) * (piece.z[1] - piece.z[0]);
      assert.ok(Math.abs(meshOfPiece(piece).volume() - wanted) < 1e-6 * wanted);
    }
  }
});
