import type { Checkpoint } from '../checkpoint.ts';
import { UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { buildBandField } from '../field/buildBandField.ts';
import { affordCellMm } from '../field/chooseCell.ts';
import { contourCells } from '../field/contourPieces.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import { compactVerts } from '../mesh/compactVerts.ts';
import type { PreparedScan } from '../mesh/PreparedScan.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type ClosestPoint, newClosestPoint, SurfaceTree } from '../spatial/SurfaceTree.ts';
import type { LineChain } from './chainSegments.ts';
import { SurfaceContext } from './SurfaceContext.ts';
import { allLoose, type CutSurface } from './types.ts';

/** The rubber's outer face over a bare pattern, in the pattern's pieces. */
export interface BrushedRubber {
  readonly surface: SurfaceContext;
  readonly cut: CutSurface;
  readonly chains: readonly LineChain[];
  /** By corner of the pattern's own cut triangles (3 t + k) the triangle of `cut` that lies over it. */
  readonly overCorner: Int32Array;
}

/** Cells of the grid to the rubber's thickness: corners of the brushed face are rounded by less than one. */
const CELLS_PER_RUBBER = 6;

/**
 * The surface at the rubber's thickness from a bare pattern, which the shell really lies on: what is undercut on it is
 * not what is undercut on the pattern. Vertices lie on the offset surface exactly; each triangle belongs to the piece of
 * the pattern's point nearest to its middle, so that the border between pieces is good to a triangle, some
 * `rubberMm / 6`. O(area / cell^2), about a second for half a square metre.
 */
export async function brushRubber(
  scan: PreparedScan,
  source: BandSource,
  cut: CutSurface,
  chains: readonly LineChain[],
  areaMm2: number,
  rubberMm: number,
  cp: Checkpoint,
): Promise<BrushedRubber> {
  const cellMm = affordCellMm(rubberMm / CELLS_PER_RUBBER, areaMm2, rubberMm);
  const grid = await buildBandField(
    source,
    cellMm,
    rubberMm + 2 * cellMm,
    scan.volumeMm3 !== null,
    cp.within(0, 0.5, 'brushing the rubber on'),
  );
  const { standsOnBoard } = scan;
  // A slab with two faces, since the inside of the body holds no cells; the inner face is dropped again.
  const slab = await contourCells(
    grid,
    standsOnBoard,
    (cell) => {
      const phi = grid.phi[cell];
      return phi === UNREACHED ? UNREACHED : Math.max(phi - rubberMm, rubberMm / 2 - phi);
    },
    cp.within(0.5, 0.7, 'brushing the rubber on'),
  );

  const tree = new SurfaceTree({ positions: cut.positions, indices: cut.indices });
  const hit = newClosestPoint();
  const p = Float64Array.from(slab.positions);
  const isOuter = new Uint8Array(p.length / 3);
  for (let v = 0; v < isOuter.length; v++) {
    if (cp.due()) await cp.pause(0.7 + (0.2 * v) / isOuter.length);
    const i = 3 * v;
    tree.closestPoint(p[i], p[i + 1], p[i + 2], hit);
    if (hit.distance < 0.75 * rubberMm) continue;
    isOuter[v] = 1;
    const onBoard = standsOnBoard && p[i + 2] === 0;
    const stretch = rubberMm / hit.distance;
    for (let k = 0; k < 3; k++) {
      if (onBoard && k === 2) continue;
      p[i + k] = hit.point[k] + stretch * (p[i + k] - hit.point[k]);
    }
    if (standsOnBoard && p[i + 2] < 0) p[i + 2] = 0;
  }
  const kept: number[] = [];
  for (let t = 0; t < slab.indices.length; t += 3) {
    const [a, b, c] = [slab.indices[t], slab.indices[t + 1], slab.indices[t + 2]];
    if (!(isOuter[a] && isOuter[b] && isOuter[c])) continue;
    const isFloor = standsOnBoard && p[3 * a + 2] === 0 && p[3 * b + 2] === 0 && p[3 * c + 2] === 0;
    if (!isFloor) kept.push(a, b, c);
  }
  const mesh = compactVerts({ positions: p, indices: Uint32Array.from(kept) });
  const triCount = mesh.indices.length / 3;
  const cutTriRegion = new Int32Array(triCount);
  for (let t = 0; t < triCount; t++) {
    if (cp.due()) await cp.pause(0.9 + (0.05 * t) / triCount);
    const mid = [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      for (let x = 0; x < 3; x++) mid[x] += mesh.positions[3 * mesh.indices[3 * t + k] + x] / 3;
    }
    tree.closestPoint(mid[0], mid[1], mid[2], hit);
    cutTriRegion[t] = cut.cutTriRegion[hit.tri];
  }
  const brushed: PreparedScan = {
    ...scan,
    mesh,
    twins: buildTwins(mesh.indices).twins,
    isSurface: new Uint8Array(triCount).fill(1),
    heightMm: scan.heightMm + rubberMm,
    volumeMm3: null,
    marks: [],
  };
  const over = new SurfaceTree(mesh);
  const ends = new Float64Array(cut.segments.ends.length);
  const segmentTri = new Int32Array(cut.segments.count);
  for (let s = 0; s < segmentTri.length; s++) {
    for (const at of [6 * s, 6 * s + 3]) {
      lift(over, scan, cut.segments.tri[s], rubberMm, cut.segments.ends, at, ends, hit);
    }
    segmentTri[s] = hit.tri;
  }
  return {
    surface: new SurfaceContext(brushed),
    cut: {
      regionCount: cut.regionCount,
      triRegion: cutTriRegion,
      positions: mesh.positions,
      indices: mesh.indices,
      cutTriRegion,
      cutTriSource: Int32Array.from({ length: triCount }, (_, t) => t),
      segments: { ...cut.segments, ends, tri: segmentTri },
      parts: allLoose(triCount),
    },
    chains: chains.map((chain) => liftChain(chain, cut, over, scan, rubberMm)),
    overCorner: await cornersOver(scan, cut, over, rubberMm, cp.within(0.95, 1, 'brushing the rubber on')),
  };
}

/** The point at `at` of `from`, which lies in the scan's triangle `tri`, as the nearest point of the brushed face to the one straight above it; to the same place of `to`. */
function lift(
  over: SurfaceTree,
  { mesh }: PreparedScan,
  tri: number,
  rubberMm: number,
  from: Float64Array,
  at: number,
  to: Float64Array,
  hit: ClosestPoint,
): void {
  const normal = new Float64Array(3);
  const length = writeTriNormal(mesh, tri, normal) || 1;
  const [x, y, z] = [0, 1, 2].map((k) => from[at + k] + (rubberMm * normal[k]) / length);
  over.closestPoint(x, y, z, hit);
  to.set(hit.point, at);
}

function liftChain(
  chain: LineChain,
  cut: CutSurface,
  over: SurfaceTree,
  scan: PreparedScan,
  rubberMm: number,
): LineChain {
  const hit = newClosestPoint();
  const points = new Float64Array(chain.points.length);
  let lengthMm = 0;
  for (let n = 0; 3 * n < points.length; n++) {
    const segment = chain.segments[Math.min(n, chain.segments.length - 1)];
    lift(over, scan, cut.segments.tri[segment], rubberMm, chain.points, 3 * n, points, hit);
    if (n === 0) continue;
    lengthMm += Math.hypot(
      points[3 * n] - points[3 * n - 3],
      points[3 * n + 1] - points[3 * n - 2],
      points[3 * n + 2] - points[3 * n - 1],
    );
  }
  return { ...chain, points, lengthMm };
}

/** By corner of the cut surface the brushed triangle over it. */
async function cornersOver(
  scan: PreparedScan,
  cut: CutSurface,
  over: SurfaceTree,
  rubberMm: number,
  cp: Checkpoint,
): Promise<Int32Array> {
  const hit = newClosestPoint();
  const at = new Float64Array(3);
  const out = new Int32Array(cut.indices.length);
  for (let h = 0; h < out.length; h++) {
    if (cp.due()) await cp.pause(h / out.length);
    const v = 3 * cut.indices[h];
    lift(over, scan, cut.cutTriSource[(h / 3) | 0], rubberMm, cut.positions.subarray(v, v + 3), 0, at, hit);
    out[h] = hit.tri;
  }
  return out;
}
