import type { PreparedScan } from '../../../../src/core/mesh/PreparedScan.ts';
import type { FillableUndercut } from '../../../../src/core/parting/blockOut/BlockOut.ts';
import type { PartingStep } from '../../../../src/core/parting/planParting.ts';
import { SurfaceTree } from '../../../../src/core/spatial/SurfaceTree.ts';

/**
 * A plain stand-in for the undercut step: every cut triangle asked by one ray from a little over its middle; connected
 * hidden triangles of a piece are a spot, its depth taken as `depthMm` where it has more area than `leastMm2`, else 0.
 */
export function markHidden(
  scan: PreparedScan,
  parting: PartingStep,
  depthMm = 10,
  leastMm2 = 1,
): FillableUndercut & {
  readonly areaMm2: number;
  readonly spots: { region: number; maxDepthMm: number; areaMm2: number }[];
} {
  const { cut, pieces } = parting;
  const { positions: p, indices } = cut;
  const count = cut.cutTriRegion.length;
  const tree = new SurfaceTree(scan.mesh);
  const triKind = new Uint8Array(count);
  const areas = new Float64Array(count);
  for (let t = 0; t < count; t++) {
    const region = cut.cutTriRegion[t];
    if (region < 0) continue;
    const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((x) => p[3 * indices[3 * t + k] + x]));
    const u = b.map((x, k) => x - a[k]);
    const v = c.map((x, k) => x - a[k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const twice = Math.hypot(...n);
    areas[t] = twice / 2;
    if (twice === 0) continue;
    const d = pieces[region].pull;
    const facing = (n[0] * d[0] + n[1] * d[1] + n[2] * d[2]) / twice;
    if (facing < -1e-6) {
      triKind[t] = 1;
      continue;
    }
    const from = a.map((x, k) => (x + b[k] + c[k]) / 3 + (1e-4 * n[k]) / twice) as [number, number, number];
    if (tree.firstHit(from, d) !== null) triKind[t] = 2;
  }
  const root = Int32Array.from({ length: count }, (_, t) => t);
  const find = (t: number): number => {
    let r = t;
    while (root[r] !== r) {
      root[r] = root[root[r]];
      r = root[r];
    }
    return r;
  };
  const firstAt = new Map<string, number>();
  for (let t = 0; t < count; t++) {
    if (triKind[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const key = `${cut.cutTriRegion[t]} ${indices[3 * t + k]}`;
      const other = firstAt.get(key);
      if (other === undefined) firstAt.set(key, t);
      else root[find(t)] = find(other);
    }
  }
  const spotOf = new Map<number, number>();
  const spots: { region: number; maxDepthMm: number; areaMm2: number }[] = [];
  const triSpot = new Int32Array(count).fill(-1);
  let areaMm2 = 0;
  for (let t = 0; t < count; t++) {
    if (triKind[t] === 0) continue;
    const r = find(t);
    let spot = spotOf.get(r);
    if (spot === undefined) {
      spot = spots.length;
      spotOf.set(r, spot);
      spots.push({ region: cut.cutTriRegion[t], maxDepthMm: 0, areaMm2: 0 });
    }
    triSpot[t] = spot;
    spots[spot].areaMm2 += areas[t];
    areaMm2 += areas[t];
  }
  for (const spot of spots) spot.maxDepthMm = spot.areaMm2 > leastMm2 ? depthMm : 0;
  return { triKind, triSpot, spots, areaMm2 };
}
