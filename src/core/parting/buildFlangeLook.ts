import type { LookSurface } from '../field/contourPieces.ts';
import type { PartingWall } from './buildWall.ts';

/** Rulings to either side over which the slab's direction off the wall is averaged: it is bent, not folded, by hand. */
const SMOOTHING_RULINGS = 2;

/** A ruling of the wall: vertices of its foot and top. */
interface Ruling {
  readonly foot: number;
  readonly top: number;
}

/**
 * The flange of one region as a slab beside the parting wall, from `fromMm` to `toMm` above the rubber, for looking at;
 * the volume is measured elsewhere. Fans at the board are left out.
 */
export function buildFlangeLook(
  wall: PartingWall,
  region: number,
  fromMm: number,
  toMm: number,
  thicknessMm: number,
): LookSurface {
  const positions: number[] = [];
  const indices: number[] = [];
  for (const { rulings, side } of runsOf(wall, region)) addSlab(rulings, side);
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) };

  function addSlab(rulings: readonly Ruling[], side: number): void {
    const normals = smoothNormals(wall.mesh.positions, rulings);
    const rings = rulings.map((ruling, n) => {
      const off = [0, 1, 2].map((k) => side * normals[3 * n + k]);
      // At the wall below and above, off the wall above and below.
      return [
        addVert(ruling, fromMm, off, 0),
        addVert(ruling, toMm, off, 0),
        addVert(ruling, toMm, off, thicknessMm),
        addVert(ruling, fromMm, off, thicknessMm),
      ];
    });
    for (let n = 0; n + 1 < rings.length; n++) {
      for (let k = 0; k < 4; k++) {
        addQuad(rings[n][k], rings[n][(k + 1) % 4], rings[n + 1][(k + 1) % 4], rings[n + 1][k], side);
      }
    }
    const isClosed =
      rulings.length > 2 && rulings[0].foot !== rulings[rulings.length - 1].foot
        ? samePlace(rulings[0].foot, rulings[rulings.length - 1].foot)
        : false;
    if (isClosed) return;
    const [a, z] = [rings[0], rings[rings.length - 1]];
    addQuad(a[3], a[2], a[1], a[0], side);
    addQuad(z[0], z[1], z[2], z[3], side);
  }

  function samePlace(a: number, b: number): boolean {
    const p = wall.mesh.positions;
    return p[3 * a] === p[3 * b] && p[3 * a + 1] === p[3 * b + 1] && p[3 * a + 2] === p[3 * b + 2];
  }

  function addVert({ foot, top }: Ruling, upMm: number, off: readonly number[], offMm: number): number {
    const p = wall.mesh.positions;
    const u = upMm / wall.heightMm;
    for (let k = 0; k < 3; k++) {
      const at = p[3 * foot + k] + u * (p[3 * top + k] - p[3 * foot + k]) + offMm * off[k];
      positions.push(k === 2 ? Math.max(0, at) : at);
    }
    return positions.length / 3 - 1;
  }

  function addQuad(a: number, b: number, c: number, d: number, side: number): void {
    if (side > 0) indices.push(a, b, c, a, c, d);
    else indices.push(a, c, b, a, d, c);
  }
}

/** Rulings in a row whose wall borders the region, with the side of the region: +1 right, -1 left. */
function runsOf(wall: PartingWall, region: number): { rulings: Ruling[]; side: number }[] {
  const { indices } = wall.mesh;
  const runs: { rulings: Ruling[]; side: number }[] = [];
  let last: { rulings: Ruling[]; side: number } | undefined;
  for (let t = 0; t + 1 < wall.left.length; t++) {
    // A quad is (foot, nextFoot, nextTop), (foot, nextTop, top); a fan's triangles share no such pattern.
    const isQuad = indices[3 * t] === indices[3 * t + 3] && indices[3 * t + 2] === indices[3 * t + 4];
    if (!isQuad) continue;
    const side = wall.left[t] === region ? -1 : wall.right[t] === region ? 1 : 0;
    const [foot, nextFoot, nextTop, top] = [
      indices[3 * t],
      indices[3 * t + 1],
      indices[3 * t + 2],
      indices[3 * t + 5],
    ];
    if (side !== 0) {
      if (!last || last.side !== side || last.rulings[last.rulings.length - 1].foot !== foot) {
        last = { rulings: [{ foot, top }], side };
        runs.push(last);
      }
      last.rulings.push({ foot: nextFoot, top: nextTop });
    }
    t++;
  }
  return runs;
}

/** Unit direction square to the wall at every ruling, to its right. */
function smoothNormals(p: Float64Array, rulings: readonly Ruling[]): Float64Array {
  const raw = rulings.map(({ foot, top }, n) => {
    const before = rulings[Math.max(0, n - 1)].foot;
    const after = rulings[Math.min(rulings.length - 1, n + 1)].foot;
    const t = [0, 1, 2].map((k) => p[3 * after + k] - p[3 * before + k]);
    const r = [0, 1, 2].map((k) => p[3 * top + k] - p[3 * foot + k]);
    return [t[1] * r[2] - t[2] * r[1], t[2] * r[0] - t[0] * r[2], t[0] * r[1] - t[1] * r[0]];
  });
  const out = new Float64Array(3 * rulings.length);
  for (let n = 0; n < rulings.length; n++) {
    for (let m = n - SMOOTHING_RULINGS; m <= n + SMOOTHING_RULINGS; m++) {
      if (m < 0 || m >= raw.length) continue;
      for (let k = 0; k < 3; k++) out[3 * n + k] += raw[m][k];
    }
    const length = Math.hypot(out[3 * n], out[3 * n + 1], out[3 * n + 2]) || 1;
    for (let k = 0; k < 3; k++) out[3 * n + k] /= length;
  }
  return out;
}
