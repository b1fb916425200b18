import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { type PlanRun, runPlan } from '../../../src/core/computePlan.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { PartingLinePlan } from '../../../src/core/plan/PlanDocument.ts';
import { type PieceSolids, pieceSolids } from '../../../src/core/shell/pieceSolids.ts';
import { openMesh } from '../../../src/io/openMesh.ts';
import { writeStl } from '../../../src/io/writeStl.ts';
import { expectValidMesh, volumeAlongX } from '../../expectValidMesh.ts';
import { type ShapePlan, shapePlan } from '../../fixtures/planShape.ts';
import { box, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';

/**
 * How far a contoured surface may lie from the true one. Linear interpolation of a function of curvature k strays by at
 * most k R^2 / 2 on a tetrahedron of circumradius R = sqrt(3)/2 h; and lattice places nearer than h / 100 are moved.
 */
const strayMm = (h: number, curvature: number): number => (3 / 8) * h ** 2 * curvature + 0.01 * h;
/** What the cut-off of a right-angled edge can take, mm2: the corner of a cube that the edge runs through. */
const cutOffMm2 = (h: number): number => h ** 2 / 2;

async function solidsOf(
  mesh: TriMesh,
  shape: ShapePlan,
  resolution: number,
): Promise<PieceSolids & { run: PlanRun }> {
  const run = await runPlan(shapePlan(shape), mesh, { resolution, until: 'amounts' });
  const solids = await pieceSolids(run, new Checkpoint());
  for (const piece of solids.pieces) {
    expectValidMesh(piece.mesh);
    expect(Math.abs(volumeAlongX(piece.mesh) / piece.volumeMm3 - 1)).toBeLessThan(1e-9);
  }
  return { ...solids, run };
}

const total = (solids: PieceSolids): number => solids.pieces.reduce((sum, piece) => sum + piece.volumeMm3, 0);

/** Across a box at x = 53, from board to board. */
function across(b: number, c: number): PartingLinePlan {
  const x = 53;
  return {
    id: 'across',
    closed: false,
    points: [
      [x, 0, 0],
      [x, 0, c],
      [x, b, c],
      [x, b, 0],
    ],
  };
}

describe('half sphere on a board, open underneath', () => {
  const [r, t, h] = [40, 10, 1.5];
  const R = r + t;
  const made = solidsOf(openHalfSphere(r, 48), { coatsMm: [4, 6], scan: { board: 0 } }, h);

  it('volume of the shell, 2/3 pi (R^3 - r^3)', async () => {
    const [piece] = (await made).pieces;
    const exact = ((2 * Math.PI) / 3) * (R ** 3 - r ** 3);
    // Facets of pi / 96 lie inside the sphere by up to r (1 - cos), the same inside and out.
    const facetMm = r * (1 - Math.cos(Math.PI / 96));
    const most = 2 * Math.PI * R ** 2 * (strayMm(h, 1 / R) + facetMm);
    expect(most / exact).toBeLessThan(0.015);
    expect(Math.abs(piece.volumeMm3 - exact)).toBeLessThan(most);
    expect(Math.abs(piece.volumeMm3 / piece.plannedMm3 - 1)).toBeLessThan(0.005);
  });

  it('stands on a flat ring in z = 0, with nothing below', async () => {
    const [{ mesh }] = (await made).pieces;
    const { positions: p, indices } = mesh;
    let lowest = Infinity;
    for (let z = 2; z < p.length; z += 3) lowest = Math.min(lowest, p[z]);
    expect(lowest).toBe(0);
    let ring = 0;
    for (let i = 0; i < indices.length; i += 3) {
      const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]];
      if (p[a + 2] !== 0 || p[b + 2] !== 0 || p[c + 2] !== 0) continue;
      // Facing down, so that its turn seen from above is clockwise.
      ring -= ((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[c] - p[a]) * (p[b + 1] - p[a + 1])) / 2;
    }
    const exact = Math.PI * (R ** 2 - r ** 2);
    expect(Math.abs(ring - exact)).toBeLessThan(2 * Math.PI * (R + r) * (strayMm(h, 1 / r) + 0.03));
  });

  it('is one surface without handles, like a cup’s: Euler number 2', async () => {
    const [{ mesh }] = (await made).pieces;
    const faces = mesh.indices.length / 3;
    expect(mesh.positions.length / 3 - (3 * faces) / 2 + faces).toBe(2);
  });

  it('as STL: read back it is the same mesh, corner by corner', async () => {
    const [{ mesh, volumeMm3 }] = (await made).pieces;
    const bytes = writeStl(mesh, 'shell piece A');
    const read = await openMesh(bytes.buffer, 'piece-A.stl', new Checkpoint());
    expect(read.notes).toEqual([]);
    expect(read.mesh.indices).toHaveLength(mesh.indices.length);
    expectValidMesh(read.mesh);
    let off = 0;
    for (let i = 0; i < mesh.indices.length; i++) {
      for (let k = 0; k < 3; k++) {
        const from = mesh.positions[3 * mesh.indices[i] + k];
        if (read.mesh.positions[3 * read.mesh.indices[i] + k] !== from) off++;
      }
    }
    expect(off).toBe(0);
    expect(Math.abs(volumeAlongX(read.mesh) / volumeMm3 - 1)).toBeLessThan(1e-9);
  });
});

describe('box', () => {
  const [a, b, c] = [120, 60, 50];

  it('free in space: Steiner’s layer, with the hollow of the box itself in it', async () => {
    const [t, h] = [8, 1.5];
    const made = await solidsOf(box(a / 2, b / 2, c / 2), { coatsMm: [t] }, h);
    const edges = 2 * (a + b + c);
    const area = (a * b + b * c + c * a) / 2;
    // J. Steiner 1840: A t + t^2 (pi / 4) sum of edges + 4/3 pi t^3.
    const exact = area * t + (Math.PI / 4) * t ** 2 * edges + (4 / 3) * Math.PI * t ** 3;
    const outerArea = area + (Math.PI / 2) * t * edges + 4 * Math.PI * t ** 2;
    // Flats only shift by the hundredth; the rounds stray; the hollow's edges are cut off.
    const rounds = (outerArea - area) * strayMm(h, 2 / t);
    const most = 2 * area * 0.01 * h + rounds + edges * cutOffMm2(h);
    expect(most / exact).toBeLessThan(0.03);
    expect(Math.abs(total(made) - exact)).toBeLessThan(most);
  });

  it('parted, with flange: each piece’s closed form, coats and flange in one body', async () => {
    const [t, h] = [10, 1.6];
    const [w, f] = [32, 12];
    const shape: ShapePlan = {
      coatsMm: [4, 6],
      scan: { board: 0 },
      parting: { lines: [across(b, c)] },
      flange: { widthMm: w, thicknessMm: f },
    };
    const made = await solidsOf(box(a, b, c), shape, h);
    expect(made.pieces).toHaveLength(2);
    const face = (2 * c + b) * (w - t) + (Math.PI / 2) * (w ** 2 - t ** 2);
    for (const { mesh, volumeMm3, plannedMm3 } of made.pieces) {
      const isLeft =
        mesh.positions.reduce((least, x, n) => (n % 3 === 0 ? Math.min(least, x) : least), 99) < 0;
      const long = isLeft ? 53 : a - 53;
      const area = b * c + 2 * long * c + long * b;
      const edges = 2 * c + b + 2 * long;
      const coats = area * t + (Math.PI / 4) * t ** 2 * edges + (Math.PI / 3) * t ** 3;
      const exact = coats + f * face;
      const flangeCell = f / 6;
      const outline = 2 * c + b + Math.PI * w;
      // Of the flange two edges are cut off and two sides shift; of the coats the inner edges, and the two at the line.
      const rounds = (Math.PI / 2) * t * edges * strayMm(h, 2 / t);
      const most =
        rounds +
        (edges + 2 * outline) * cutOffMm2(h) +
        2 * outline * cutOffMm2(flangeCell) +
        2 * face * 0.01 * flangeCell +
        Math.PI * w * f * strayMm(flangeCell, 1 / w) +
        2 * area * 0.01 * h;
      expect(most / exact).toBeLessThan(0.04);
      expect(Math.abs(volumeMm3 - exact)).toBeLessThan(most);
      expect(Math.abs(volumeMm3 / plannedMm3 - 1)).toBeLessThan(0.01);
      // One body: coats and flange hang together, round the open space of the box.
      expect(partsOf(mesh)).toBe(1);
      // The flange ends at its width, beyond the coats.
      const lowest = mesh.positions.reduce((least, y, n) => (n % 3 === 1 ? Math.min(least, y) : least), 99);
      expect(Math.abs(lowest + w)).toBeLessThan(flangeCell / 4);
    }
  });

  it('two pieces hold what one holds', async () => {
    const [t, h] = [8, 1.6];
    const parted: ShapePlan = { coatsMm: [t], scan: { board: 0 }, parting: { lines: [across(b, c)] } };
    const two = await solidsOf(box(a, b, c), parted, h);
    const one = await solidsOf(box(a, b, c), { coatsMm: [t], scan: { board: 0 } }, h);
    expect(two.pieces).toHaveLength(2);
    expect(one.pieces).toHaveLength(1);
    // On both sides of the parting face two edges run round the box, cut off by up to a cell.
    const rims = 4 * (2 * c + b + Math.PI * t) * cutOffMm2(h);
    expect(rims / total(one)).toBeLessThan(0.02);
    expect(Math.abs(total(two) - total(one))).toBeLessThan(rims);
  });
});

it('what is kept clear carries no shell: the share of the sphere that its ball takes', async () => {
  const clear = { name: 'key', dabsMm: [[0, 0, 40] as const], radiusMm: 10 };
  const [t, h] = [3, 0.8];
  const open = await solidsOf(octasphere(20, 16), { coatsMm: [t] }, h);
  const less = await solidsOf(octasphere(20, 16), { coatsMm: [t], scan: { keepClear: [clear] } }, h);
  // A ball of radius s about a point of the sphere takes exactly pi s^2 of it (Archimedes), and that share of the shell.
  const share = (Math.PI * 100) / (4 * Math.PI * 400);
  // Two edges of the round hole are cut off; across the shell its border may lean by the facets' turn, pi / 32.
  const rim = 2 * Math.PI * 10 * 1.15;
  const most = (2 * rim * cutOffMm2(h) + (rim * t ** 2 * (Math.PI / 32)) / 2) / total(open);
  expect(Math.abs(1 - total(less) / total(open) - share)).toBeLessThan(most);
});

it('over a bare pattern the shell begins at the rubber’s outside', async () => {
  const [r, rubber, t, h] = [25, 6, 8, 1.5];
  const made = await solidsOf(
    octasphere(r, 32),
    { coatsMm: [t], scan: { is: 'pattern', rubberMm: rubber } },
    h,
  );
  const [inner, outer] = [r + rubber, r + rubber + t];
  const exact = (4 / 3) * Math.PI * (outer ** 3 - inner ** 3);
  const facetMm = r * (1 - Math.cos(Math.PI / 64));
  expect(Math.abs(total(made) - exact)).toBeLessThan(
    4 * Math.PI * outer ** 2 * (strayMm(h, 1 / outer) + facetMm),
  );
});

it('a cancel ends it', async () => {
  const run = await runPlan(shapePlan(), octasphere(20, 12), { resolution: 2, until: 'amounts' });
  const abort = new AbortController();
  abort.abort(new DOMException('enough', 'AbortError'));
  await expect(pieceSolids(run, new Checkpoint(undefined, abort.signal))).rejects.toThrow('enough');
});

it('a scan of a goblet (test/fixtures/CREDITS.md): each piece holds the plan’s volume', async () => {
  const { buffer } = Uint8Array.from(readFileSync(join(import.meta.dirname, '../../fixtures/goblet.stl')));
  const { mesh } = await openMesh(buffer, 'goblet.stl', new Checkpoint());
  const run = await runPlan(newPlan('goblet.stl'), mesh, { resolution: 2, until: 'amounts' });
  const made = await pieceSolids(run, new Checkpoint());
  expect(made.isCoarser).toBe(false);
  expect(made.pieces).toHaveLength(2);
  const { flange } = run.plan.parting;
  if (!flange) throw new Error('A new plan has a flange.');
  for (const [n, { mesh: solid, volumeMm3, plannedMm3 }] of made.pieces.entries()) {
    expectValidMesh(solid);
    const { lengthMm } = run.result.pieces[n].flange;
    // The plan answers for its own bound. Of the coats the inner edge runs free along the line, of the flange two outer ones,
    // each at most twice as long; cut off they lack this at most.
    const most =
      run.result.pieces[n].volumeErrorMm3 +
      lengthMm * (cutOffMm2(2) + 2 * 2 * cutOffMm2(flange.thicknessMm / 6));
    expect(most / plannedMm3).toBeLessThan(0.06);
    // The bent line's flange is shared out otherwise than in the plan: measured -2.1 % and +1.1 %, together -0.5 %.
    expect(Math.abs(volumeMm3 - plannedMm3)).toBeLessThan(most);
    // No crumbly face along the line: hardly a handle. Taken by the sides of the wall it had over thirty.
    const surfaces = partsOf(solid);
    // The piece itself, and a hollow between its coats and its flange, which shut it off.
    expect(surfaces).toBeLessThanOrEqual(2);
    const handles = surfaces - (solid.positions.length / 3 - solid.indices.length / 6) / 2;
    expect(handles).toBeLessThanOrEqual(3);
  }
  const planned = made.pieces.reduce((sum, piece) => sum + piece.plannedMm3, 0);
  expect(Math.abs(total(made) / planned - 1)).toBeLessThan(0.01);
}, 180_000);

/** Bodies that share no vertex. */
function partsOf({ positions, indices }: TriMesh): number {
  const root = Int32Array.from({ length: positions.length / 3 }, (_, v) => v);
  const find = (v: number): number => {
    let at = v;
    while (root[at] !== at) {
      root[at] = root[root[at]];
      at = root[at];
    }
    return at;
  };
  for (let i = 0; i < indices.length; i += 3) {
    root[find(indices[i])] = find(indices[i + 1]);
    root[find(indices[i])] = find(indices[i + 2]);
  }
  return root.reduce((count, v, n) => count + (v === n ? 1 : 0), 0);
}
