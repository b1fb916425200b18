import { type CoatTable, TABLE_WIDTH } from '../field/CoatTable.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { ReachSamples, SpotList } from './sampleReach.ts';

/** A volume over distance by estimate, and how far it may be off, region by region. */
export interface EstimatedTables {
  readonly tables: readonly CoatTable[];
  /** The same, each level with its doubt added. */
  readonly doubted: readonly CoatTable[];
}

/** Knots of the tables, to the farthest distance. */
const KNOTS = 48;
/** Standard errors of the sample that the doubt covers. */
const SIGMAS = 3;
/** Share of what stands over edges and vertices, and of what the hollows take, that the model may have wrong. Own; tried on the fixtures. */
const MODEL_SHARE = 0.06;
/** Scan noise, and what no share covers. */
const LEAST_SHARE = 0.004;

/**
 * Volume within each distance of S, by Steiner's formula with every part of S counted only as far out as it stays the
 * nearest: over faces the distance itself, over edges half its square times their angle, over vertices a third of its cube.
 * Exact on convex bodies but for chance; where parts of S face each other each counts to the middle between them.
 *
 * Source: Steiner 1840 as in Weyl's tube formula; cutting it at the medial axis and sampling that is own.
 *
 * @param areasMm2 area of S by region, keep-clear areas left out.
 * @param wedgesMm the samples' wedges by region, mm.
 * @param regionOf region of a spot of S.
 * @param isKept false for a spot that the shell leaves free (keep-clear).
 */
export function estimateTables(
  samples: ReachSamples,
  areasMm2: ArrayLike<number>,
  wedgesMm: ArrayLike<number>,
  regionOf: (tri: number, point: Vec3) => number,
  isKept: (point: Vec3) => boolean,
): EstimatedTables {
  const { faces, edges, verts, farthestMm, coneSr } = samples;
  // The areas leave out what is kept clear, the wedges do not: there its spots count, and hold nothing.
  const faceRegion = regionsOf(faces, (tri, point) => (isKept(point) ? regionOf(tri, point) : -1), true);
  const edgeRegion = regionsOf(edges, regionOf, true);
  const isEdgeKept = keptOf(edges, isKept);
  const vertRegion = regionsOf(verts, (tri, point) => (isKept(point) ? regionOf(tri, point) : -1), false);
  const perVert = verts.count > 0 ? coneSr / verts.count : 0;
  const knotMm = farthestMm / (KNOTS - 1);
  const tables: CoatTable[] = [];
  const doubted: CoatTable[] = [];
  for (let region = 0; region < areasMm2.length; region++) {
    const rows = new Float64Array(TABLE_WIDTH * KNOTS);
    const doubtedRows = new Float64Array(TABLE_WIDTH * KNOTS);
    const faceCount = countIn(faceRegion, region);
    const edgeCount = countIn(edgeRegion, region);
    const perFace = faceCount > 0 ? areasMm2[region] / faceCount : 0;
    const perEdge = edgeCount > 0 ? wedgesMm[region] / edgeCount : 0;
    for (let k = 1; k < KNOTS; k++) {
      const at = TABLE_WIDTH * k;
      const t = k * knotMm;
      const row = rows.subarray(at, at + TABLE_WIDTH);
      const face = addUp(faces, faceRegion, region, t, row, perFace, 1);
      const edge = addUp(edges, edgeRegion, region, t, row, perEdge, 2, isEdgeKept);
      const vert = addUp(verts, vertRegion, region, t, row, perVert, 3);
      const lostMm3 = Math.max(0, areasMm2[region] * t - face.sum);
      const chance = Math.sqrt(spreadOf(face, faceCount) + spreadOf(edge, edgeCount) + vert.squares);
      doubtedRows.set(row, at);
      doubtedRows[at] +=
        SIGMAS * chance +
        MODEL_SHARE * (edge.sum + vert.sum + lostMm3) +
        LEAST_SHARE * (face.sum + edge.sum + vert.sum);
    }
    tables.push({ knotMm, knotCount: KNOTS, rows });
    doubted.push({ knotMm, knotCount: KNOTS, rows: doubtedRows });
  }
  return { tables, doubted };
}

/** Variance of a mean of so many times the known whole, from the sum and the sum of squares of what each adds. */
function spreadOf({ sum, squares }: { sum: number; squares: number }, count: number): number {
  return count > 0 ? Math.max(0, squares - (sum * sum) / count) : 0;
}

function countIn(regions: Int32Array, region: number): number {
  return regions.reduce((sum, r) => sum + (r === region ? 1 : 0), 0);
}

/** Region of each spot; -1, unless all are asked for, where a spot holds nothing anyway. */
function regionsOf(
  { tri, points: p, reachMm }: SpotList,
  regionOf: (tri: number, point: Vec3) => number,
  isAll: boolean,
): Int32Array {
  return Int32Array.from(tri, (t, n) =>
    isAll || reachMm[n] > 0 ? regionOf(t, [p[3 * n], p[3 * n + 1], p[3 * n + 2]]) : -1,
  );
}

function keptOf({ count, points: p }: SpotList, isKept: (point: Vec3) => boolean): Uint8Array {
  return Uint8Array.from({ length: count }, (_, n) =>
    isKept([p[3 * n], p[3 * n + 1], p[3 * n + 2]]) ? 1 : 0,
  );
}

/**
 * Adds volume and moments of one kind of spots to a row; what they sum to and the sum of their squares. A spot of `power` 1, 2,
 * 3 (face, edge, vertex) and weight w holds w t^power / power within the distance t.
 */
function addUp(
  { count, points, directions, reachMm }: SpotList,
  regions: Int32Array,
  region: number,
  distanceMm: number,
  row: Float64Array,
  weight: number,
  power: number,
  isKept: Uint8Array | null = null,
): { sum: number; squares: number } {
  let sum = 0;
  let squares = 0;
  for (let n = 0; n < count; n++) {
    if (regions[n] !== region || isKept?.[n] === 0) continue;
    const t = Math.min(distanceMm, reachMm[n]);
    const volume = (weight * t ** power) / power;
    const moment = (weight * t ** (power + 1)) / (power + 1);
    row[0] += volume;
    for (let k = 0; k < 3; k++) row[k + 1] += volume * points[3 * n + k] + moment * directions[3 * n + k];
    sum += volume;
    squares += volume * volume;
  }
  return { sum, squares };
}
