import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import { boundingBox, type TriMesh, type Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { blockedPairs } from '../../../../src/core/parting/undercut/blockedPairs.ts';
import { measureUndercut } from '../../../../src/core/parting/undercut/measureUndercut.ts';
import {
  KIND_AWAY,
  KIND_BY_BOARD,
  KIND_BY_PIECE,
  KIND_BY_RUBBER,
  KIND_FREE,
} from '../../../../src/core/parting/undercut/UndercutStep.ts';
import { openMesh } from '../../../../src/io/openMesh.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, moved, torus, turned } from '../../../fixtures/shapes.ts';
import { undercutInput, undercutOf } from './labelledCut.ts';
import { ringedSphere } from './revolved.ts';

const UP: Vec3 = [0, 0, 1];

/** The goblet's foot is flat to within this. */
const UNEVEN_MM = 0.6;

/** The goblet is 99 mm high; inside and outside meet in a rounded lip above this. */
const LIP_Z = 95;

/** A bar along y whose section widens from 20 mm on the board to 40 mm at its height of 30. */
function dovetail(): TriMesh {
  const mesh = box(20, 80, 30);
  const positions = mesh.positions.map((x, i) => {
    if (i % 3 !== 0 || mesh.positions[i + 2] === 0) return x;
    return x === 0 ? -10 : 30;
  });
  return { positions, indices: mesh.indices };
}

describe('a dovetail', () => {
  it('is locked pulled up, by its overhang, and free along its length', async () => {
    const mesh = dovetail();
    // Its far end is a piece of its own, so that the first can slide.
    const labelOf = (_x: number, y: number): number => (y < 0.01 ? 1 : 0);
    const up = await undercutOf({ mesh, pulls: [UP, [0, -1, 0]], labelOf, standsOnBoard: true });
    expect(Math.abs(up.pieces[0].maxDepthMm - 10)).toBeLessThanOrEqual(up.pieces[0].maxDepthErrorMm);
    expect(up.pieces[0].maxDepthMm).toBeCloseTo(10, 2);
    // A wedge of 10 by 30 along either side.
    expect(up.pieces[0].fillerMm3 / (2 * 0.5 * 10 * 30 * 80)).toBeCloseTo(1, 1);
    expect(up.spots).toHaveLength(2);
    const along = await undercutOf({
      mesh,
      pulls: [
        [0, 1, 0],
        [0, -1, 0],
      ],
      labelOf,
      standsOnBoard: true,
    });
    for (const piece of along.pieces) expect(piece.areaMm2).toBe(0);
    // The bar slides along itself; its end is lifted straight off.
    expect(along.pieces[0].leastDraftDeg).toBeCloseTo(0, 9);
    expect(along.pieces[1].leastDraftDeg).toBeCloseTo(90, 9);
  });
});

describe('a pull into the board', () => {
  it('is held by the board wherever it is not by the rubber, however much that yields', async () => {
    const mesh = moved(box(30, 20, 10), [0, 0, 0]);
    const step = await undercutOf({ mesh, pulls: [[0.6, 0, -0.8]], standsOnBoard: true, giveMm: 100 });
    const [piece] = step.pieces;
    // The lid and the left side face away; the right, the front and the back face the pull or stand along it.
    expect(piece.facingAwayMm2).toBeCloseTo(30 * 20 + 20 * 10, 9);
    expect(piece.overshadowedMm2.byBoard).toBeCloseTo(20 * 10 + 2 * 30 * 10, 6);
    expect(new Set(step.triKind)).toEqual(new Set([KIND_AWAY, KIND_BY_BOARD]));
    expect(step.spots.some(({ isWithinGive }) => !isWithinGive)).toBe(true);
  });
});

describe('the order of removal', () => {
  it('takes a cap first that reaches below the widest level, before the two sides', async () => {
    const mesh = ringedSphere(60, [-15, 0], 3, 64);
    const capZ = -60 * Math.sin((15 * Math.PI) / 180);
    const input = undercutInput({
      mesh,
      pulls: [[1, 0, 0], [-1, 0, 0], UP],
      labelOf: (x, _y, z) => (z > capZ ? 2 : x > 0 ? 0 : 1),
      shellMm: 8,
    });
    const { removal } = await measureUndercut(input, new Checkpoint());
    expect(removal.order).toEqual([2, 0, 1]);
    expect(removal.waits).toEqual([
      [0, 2],
      [1, 2],
    ]);
    expect(removal.locked).toEqual([]);
    const alone = await blockedPairs(
      input.surface,
      input.cut,
      input.chains,
      input.pulls,
      8,
      new Checkpoint(),
    );
    expect([...alone]).toEqual([0, 0, 1, 0, 0, 1, 0, 0, 0]);
  });

  it('names two halves that are pulled into each other, and paints what they hold', async () => {
    const mesh = ringedSphere(60, [0], 3, 64);
    const step = await undercutOf({
      mesh,
      pulls: [[0, 0, -1], UP],
      labelOf: (_x, _y, z) => (z > 0 ? 0 : 1),
      shellMm: 8,
    });
    expect(step.removal.locked).toEqual([0, 1]);
    const rim = 2 * 64 * 60 * Math.sin(Math.PI / 64);
    for (const piece of step.pieces) {
      expect(piece.wall.blockedMm).toBeCloseTo(rim, 6);
      expect(piece.wall.leastDraftDeg).toBeLessThan(-85);
    }
  });

  it('finds a shell that stands in front of another without touching it', async () => {
    // A disc in front of a ring's hole: two bodies, the disc a piece of its own that is pulled aside.
    const ring = turned(torus(40, 8, 48, 16), [0, 1, 0], Math.PI / 2);
    const plate = moved(box(6, 160, 160), [60, -80, -80]);
    const mesh = { ...ring };
    const positions = new Float64Array(ring.positions.length + plate.positions.length);
    positions.set(ring.positions);
    positions.set(plate.positions, ring.positions.length);
    const indices = Uint32Array.from([
      ...mesh.indices,
      ...plate.indices.map((v) => v + ring.positions.length / 3),
    ]);
    const step = await undercutOf({
      mesh: { positions, indices },
      pulls: [[1, 0, 0], [-1, 0, 0], UP],
      labelOf: (x) => (x > 55 ? 2 : x > 0 ? 0 : 1),
      shellMm: 6,
    });
    expect(step.removal.waits).toEqual([[0, 2]]);
    expect(step.removal.order).toEqual([1, 2, 0]);
  });
});

describe('faces', () => {
  for (const seed of [11, 12, 13]) {
    it(`are what rays from every face through every triangle say, on bodies turned at random (seed ${seed})`, async () => {
      const random = seededRandom(seed);
      // A ring seen about along its plane: the near side of its hole is shadowed by the far one.
      const axis: Vec3 = [random(), random(), random() - 0.5];
      const angle = 6 * random();
      const mesh = turned(torus(30, 9, 36, 18), axis, angle);
      const level = { positions: Float64Array.from([0.9, 0.3, Math.sqrt(0.1)]), indices: new Uint32Array(0) };
      const [dx, dy, dz] = turned(level, axis, angle).positions;
      const pull: Vec3 = [dx, dy, dz];
      const input = undercutInput({ mesh, pulls: [pull] });
      const step = await measureUndercut(input, new Checkpoint());
      const { positions: p, indices } = mesh;
      let hidden = 0;
      let differing = 0;
      for (let t = 0; t < indices.length / 3; t++) {
        const [a, b, c] = [0, 1, 2].map((k) => {
          const at = 3 * indices[3 * t + k];
          return [p[at], p[at + 1], p[at + 2]];
        });
        const e1 = a.map((x, k) => b[k] - x);
        const e2 = a.map((x, k) => c[k] - x);
        const n = [
          e1[1] * e2[2] - e1[2] * e2[1],
          e1[2] * e2[0] - e1[0] * e2[2],
          e1[0] * e2[1] - e1[1] * e2[0],
        ];
        const sine = (n[0] * pull[0] + n[1] * pull[1] + n[2] * pull[2]) / Math.hypot(n[0], n[1], n[2]);
        if (Math.abs(sine) < 0.02) continue;
        if (sine < 0) {
          expect(step.triKind[t]).toBe(KIND_AWAY);
          continue;
        }
        const middle = a.map((x, k) => (x + b[k] + c[k]) / 3);
        const isHidden = meetsAny(mesh, middle, pull, t);
        if (isHidden) hidden++;
        expect([KIND_FREE, KIND_BY_RUBBER]).toContain(step.triKind[t]);
        if ((step.triKind[t] === KIND_BY_RUBBER) !== isHidden) differing++;
      }
      expect(hidden).toBeGreaterThan(10);
      // A face is painted by more than its middle: those cut by the shadow's edge may differ, the stated error covers them.
      expect(differing).toBeLessThan(25);
      expect(step.pieces[0].areaErrorMm2).toBeGreaterThan(0);
      expect(step.pieces[0].areaErrorMm2).toBeLessThan(0.05 * step.pieces[0].areaMm2);
    });
  }
});

/** Whether a ray meets any triangle but `own`, by their planes and the signs of the volumes that its edges span with the ray. */
function meetsAny(mesh: TriMesh, from: readonly number[], d: Vec3, own: number): boolean {
  const { positions: p, indices } = mesh;
  const side = (v: number, w: number): number => {
    const a = [0, 1, 2].map((k) => p[3 * v + k] - from[k]);
    const b = [0, 1, 2].map((k) => p[3 * w + k] - from[k]);
    return (
      d[0] * (a[1] * b[2] - a[2] * b[1]) +
      d[1] * (a[2] * b[0] - a[0] * b[2]) +
      d[2] * (a[0] * b[1] - a[1] * b[0])
    );
  };
  for (let t = 0; t < indices.length / 3; t++) {
    if (t === own) continue;
    const [a, b, c] = [indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]];
    const signs = [side(a, b), side(b, c), side(c, a)];
    if (!(signs.every((s) => s > 0) || signs.every((s) => s < 0))) continue;
    const sum = signs[0] + signs[1] + signs[2];
    // The weights of the corners are the volumes over against them.
    const along = [0, 1, 2].reduce((total, k) => {
      const at = (signs[1] * p[3 * a + k] + signs[2] * p[3 * b + k] + signs[0] * p[3 * c + k]) / sum;
      return total + (at - from[k]) * d[k];
    }, 0);
    if (along > 1e-9) return true;
  }
  return false;
}

describe('the goblet', () => {
  it('locks all round for a vertical pull; outside, two horizontal ones free it', async () => {
    const bytes = new Uint8Array(readFileSync(new URL('../../../fixtures/goblet.stl', import.meta.url)));
    const { mesh: raw } = await openMesh(bytes, 'goblet.stl');
    const mesh = weldedOnBoard(raw);
    // The lip and the inside of the cup are kept clear: no shell is laid there.
    const isOutside = outsideOf(mesh);
    const isClear = (t: number): boolean => isOutside[t] === 0;
    const vertical = await undercutOf({ mesh, pulls: [UP], standsOnBoard: true, isClear });
    expect(vertical.pieces[0].maxDepthMm).toBeGreaterThan(10);
    const { positions, indices } = undercutInput({ mesh, pulls: [UP], standsOnBoard: true, isClear }).cut;
    const isLocked = new Array(12).fill(false);
    vertical.triKind.forEach((kind, t) => {
      if (kind === KIND_FREE) return;
      const at = 3 * indices[3 * t];
      isLocked[Math.floor(((Math.atan2(positions[at + 1], positions[at]) / Math.PI + 1) * 6) % 12)] = true;
    });
    expect(isLocked).toEqual(new Array(12).fill(true));
    const sideways = await undercutOf({
      mesh,
      pulls: [
        [0, 1, 0],
        [0, -1, 0],
      ],
      labelOf: (_x, y) => (y > 0 ? 0 : 1),
      standsOnBoard: true,
      isClear,
    });
    for (const piece of sideways.pieces) {
      expect(piece.maxDepthMm).toBe(0);
      expect(piece.areaMm2).toBe(0);
      expect(piece.leastDraftDeg).toBeGreaterThan(1);
    }
  });
});

/** Corners at the same place made one, about the axis, the lowest point at z = 0. */
function weldedOnBoard(mesh: TriMesh): TriMesh {
  const { min, max } = boundingBox(mesh);
  const known = new Map<string, number>();
  const positions: number[] = [];
  const indices = mesh.indices.map((v) => {
    const [x, y, z] = [0, 1, 2].map((k) => mesh.positions[3 * v + k]);
    const key = `${x},${y},${z}`;
    let vert = known.get(key);
    if (vert === undefined) {
      vert = positions.length / 3;
      known.set(key, vert);
      // The foot was scanned a little uneven; it stands flat.
      const height = z - min[2] < UNEVEN_MM ? 0 : z - min[2];
      positions.push(x - (min[0] + max[0]) / 2, y - (min[1] + max[1]) / 2, height);
    }
    return vert;
  });
  return { positions: Float64Array.from(positions), indices };
}

/** By triangle: 1 when it hangs together with the foot without crossing the lip. */
function outsideOf({ positions, indices }: TriMesh): Uint8Array {
  const isLip = (t: number): boolean => [0, 1, 2].every((k) => positions[3 * indices[3 * t + k] + 2] > LIP_Z);
  const isReached = new Uint8Array(positions.length / 3);
  const isOutside = new Uint8Array(indices.length / 3);
  for (let t = 0; t < isOutside.length; t++) {
    if ([0, 1, 2].every((k) => positions[3 * indices[3 * t + k] + 2] === 0)) isReached[indices[3 * t]] = 1;
  }
  for (let hasGrown = true; hasGrown; ) {
    hasGrown = false;
    for (let t = 0; t < isOutside.length; t++) {
      const corners = [0, 1, 2].map((k) => indices[3 * t + k]);
      if (isOutside[t] === 1 || isLip(t) || !corners.some((v) => isReached[v] === 1)) continue;
      isOutside[t] = 1;
      hasGrown = true;
      for (const v of corners) isReached[v] = 1;
    }
  }
  return isOutside;
}

describe('as a job', () => {
  it('reports rising progress to its end, and stops with the reason when cancelled', async () => {
    const input = undercutInput({
      mesh: ringedSphere(60, [-20, 0], 3, 64),
      pulls: [UP, [0, 0, -1]],
      labelOf: (_x, _y, z) => (z > -20 ? 0 : 1),
    });
    const seen: number[] = [];
    await measureUndercut(input, new Checkpoint((fraction) => seen.push(fraction)));
    expect(seen.length).toBeGreaterThan(3);
    expect([...seen].sort((a, b) => a - b)).toEqual(seen);
    expect(seen[seen.length - 1]).toBe(1);
    const controller = new AbortController();
    const reason = new Error('enough');
    const job = measureUndercut(input, new Checkpoint(() => controller.abort(reason), controller.signal));
    await expect(job).rejects.toBe(reason);
  });

  it('refuses a pull without direction', async () => {
    await expect(undercutOf({ mesh: box(1, 1, 1), pulls: [[0, 0, 0]] })).rejects.toMatchObject({
      code: 'bad-pull',
    });
  });

  it('keeps KIND_BY_PIECE for pieces that hold each other', async () => {
    const mesh = ringedSphere(60, [-20, 20], 4, 48);
    // Two bowls pulled through each other.
    const step = await undercutOf({
      mesh,
      pulls: [
        [0.6, 0, -0.8],
        [0.6, 0, 0.8],
      ],
      labelOf: (_x, _y, z) => (z > 0 ? 0 : 1),
      shellMm: 10,
    });
    expect(step.removal.locked).toEqual([0, 1]);
    expect([...step.triKind]).toContain(KIND_BY_PIECE);
    for (const piece of step.pieces) expect(piece.overshadowedMm2.byPiece).toBeGreaterThan(0);
    expect(step.spots.filter(({ by }) => by === 'piece').every(({ isWithinGive }) => !isWithinGive)).toBe(
      true,
    );
  });
});
