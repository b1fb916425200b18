import type { Checkpoint } from '../checkpoint.ts';
import { PlanError } from '../errors.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { PartingLinePlan } from '../plan/PlanDocument.ts';
import { absorbIslands } from './absorbIslands.ts';
import { checkPieces } from './checkPieces.ts';
import { cutAlongLines, type LaidLines } from './cutAlongLines.ts';
import { linesBetween } from './linesBetween.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import { type FacingGraph, SurfaceDiffusion } from './SurfaceDiffusion.ts';

export interface FirstLines {
  readonly lines: readonly PartingLinePlan[];
  /** Unit vector of the pull of each piece the lines were laid for, in the order of the azimuths. */
  readonly pulls: readonly Vec3[];
  /** The lines as they were tried; null for a single piece. */
  readonly laid: LaidLines | null;
}

/** Folds smaller than this share of the surface's diagonal do not bend a first line. A choice, held against real scans. */
const FOLD_SHARE = 0.05;
/** Corners of the line are rounded at this share of the diagonal: what a shim can follow. A choice. */
const ROUNDING_SHARE = 0.025;
/** How much a face turned to or away from its pull weighs against the straightness of the line. A choice, held against real scans. */
const FACING_WEIGHT = 0.8;
/** Times the line is straightened and laid again. */
const ROUNDS = 2;
/** Step between the azimuths that 'auto' tries. */
const AZIMUTH_STEP_DEG = 15;
/** How many of them are judged with their islands absorbed. */
const AZIMUTHS_JUDGED_TWICE = 4;
/** Smoother lines tried, as factors on the lengths above, when the first cannot be laid (it crosses itself, say). */
const RETRY_FACTORS = [1, 1.7, 3];
/** When the lines make too many pieces, those shorter than this share of the diagonal are left out: bits at a ragged rim. */
const SHORT_LINE_SHARE = 0.1;
/** Most pieces that first lines are laid for. */
const MOST_PIECES = 8;

/**
 * First parting lines for given pulls: each piece is the part of S that faces its pull, small folds smoothed over, made
 * connected; the lines run where the pieces meet (the silhouette seen along the pull, smoothed), from board to board or
 * on to an earlier line. They are control points for `joinAlongSurface`, and are tried with it and `cutSurface` first.
 *
 * Own method: the normals are spread over the surface (one implicit step of heat flow), each vertex takes the pull that
 * it then faces most, islands are absorbed, and the labels are spread and taken again to straighten the line (after the
 * threshold dynamics of Merriman, Bence & Osher 1992, with the facing as a force).
 *
 * @param azimuthsDeg one a piece, counter-clockwise from +x seen from above; one alone: that and others evenly spaced;
 *   'auto': of every 15 degrees the one with the least area turned away from its piece's pull.
 * @throws PlanError 'bad-pull': a number of azimuths that fits no pieces, or a pull that no part of S faces. 'bad-line':
 *   no line could be laid.
 * Cost: under a second for 100 000 triangles. Cancels at its checkpoint.
 */
export async function firstLines(
  surface: SurfaceContext,
  azimuthsDeg: readonly number[] | 'auto',
  pieceCount: number,
  cp: Checkpoint,
): Promise<FirstLines> {
  checkPulls(azimuthsDeg, pieceCount);
  if (pieceCount === 1) return { lines: [], pulls: [[0, 0, 1]], laid: null };
  const graph = new SurfaceDiffusion(surface);
  let failure: unknown = null;
  for (const factor of RETRY_FACTORS) {
    try {
      return await layLines(surface, graph, azimuthsDeg, pieceCount, factor, cp);
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
      failure ??= error;
    }
  }
  throw failure;
}

/** Unit pulls for azimuths: as many as pieces, or one from which the others are evenly spaced. */
export function pullsOf(azimuthsDeg: readonly number[], pieceCount: number): Vec3[] {
  return Array.from({ length: pieceCount }, (_, i): Vec3 => {
    const deg = azimuthsDeg.length === pieceCount ? azimuthsDeg[i] : azimuthsDeg[0] + (360 * i) / pieceCount;
    const rad = (deg * Math.PI) / 180;
    return [Math.cos(rad), Math.sin(rad), 0];
  });
}

function checkPulls(azimuthsDeg: readonly number[] | 'auto', pieceCount: number): void {
  if (!Number.isInteger(pieceCount) || pieceCount < 1 || pieceCount > MOST_PIECES) {
    throw new PlanError(
      'bad-plan',
      `A first line is found for 1 to ${MOST_PIECES} pieces, not for ${pieceCount}. Ask for fewer, or draw the lines yourself.`,
      'parting.pieceCount',
    );
  }
  if (azimuthsDeg === 'auto') return;
  if (azimuthsDeg.length !== 1 && azimuthsDeg.length !== pieceCount) {
    throw new PlanError(
      'bad-pull',
      `${azimuthsDeg.length} pulls were given for ${pieceCount} pieces. Give one for each piece, or one for the first alone.`,
      'parting.pullAzimuthsDeg',
    );
  }
  if (!azimuthsDeg.every(Number.isFinite)) {
    throw new PlanError('bad-pull', 'A pull is not a number of degrees.', 'parting.pullAzimuthsDeg');
  }
}

async function layLines(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  azimuthsDeg: readonly number[] | 'auto',
  pieceCount: number,
  factor: number,
  cp: Checkpoint,
): Promise<FirstLines> {
  const smooth = await spreadNormals(
    graph,
    factor * FOLD_SHARE * surface.diagonalMm,
    cp.within(0, 0.4, 'seeing how it faces'),
  );
  const pulls =
    azimuthsDeg === 'auto' ? bestPulls(graph, smooth, pieceCount) : pullsOf(azimuthsDeg, pieceCount);
  const labels = labelByPull(graph, smooth, pulls);
  absorbIslands(graph, labels, pieceCount);
  checkEveryPull(labels, pulls);
  const values = await straightenBorders(
    graph,
    labels,
    pulls,
    factor * ROUNDING_SHARE * surface.diagonalMm,
    cp.within(0.4, 0.8, 'smoothing the line'),
  );
  let failure: unknown = null;
  for (const leastMm of [0, SHORT_LINE_SHARE * surface.diagonalMm]) {
    try {
      const lines = linesBetween(surface, graph, labels, values, pieceCount, leastMm);
      await cp.pause(0.95);
      const laid = await cutAlongLines(surface, lines, cp.within(0.95, 1, 'trying the line'));
      checkPieces(laid.cut, graph, labels, pieceCount);
      return { lines, pulls, laid };
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
      failure ??= error;
    }
  }
  throw failure;
}

/** Per vertex the horizontal part of the spread area vectors over the spread area's unit: x and y. */
async function spreadNormals(
  graph: SurfaceDiffusion,
  lengthMm: number,
  cp: Checkpoint,
): Promise<[Float64Array, Float64Array]> {
  const x = new Float64Array(graph.count);
  const y = new Float64Array(graph.count);
  for (let v = 0; v < graph.count; v++) {
    x[v] = graph.areaVectors[3 * v];
    y[v] = graph.areaVectors[3 * v + 1];
  }
  return [
    await graph.spread(x, lengthMm, cp.within(0, 0.5, 'seeing how it faces')),
    await graph.spread(y, lengthMm, cp.within(0.5, 1, 'seeing how it faces')),
  ];
}

/**
 * Evenly spaced pulls, turned so that the least area faces away from its piece's pull; the first of equals. All azimuths
 * are judged as they face, the best few once more with their islands absorbed, for that can turn the order over.
 */
function bestPulls(whole: SurfaceDiffusion, faced: readonly Float64Array[], pieceCount: number): Vec3[] {
  const { graph, values: smooth } = whole.clumped(faced);
  const tried: { pulls: Vec3[]; labels: Int32Array; awayMm2: number }[] = [];
  for (let deg = 0; deg < 360 / pieceCount; deg += AZIMUTH_STEP_DEG) {
    const pulls = pullsOf([deg], pieceCount);
    const labels = labelByPull(graph, smooth, pulls);
    tried.push({ pulls, labels, awayMm2: areaFacingAway(graph, labels, pulls) });
  }
  tried.sort((a, b) => a.awayMm2 - b.awayMm2);
  let best: Vec3[] = tried[0].pulls;
  let least = Infinity;
  for (const { pulls, labels } of tried.slice(0, AZIMUTHS_JUDGED_TWICE)) {
    absorbIslands(graph, labels, pieceCount);
    const away = areaFacingAway(graph, labels, pulls);
    if (away < least) {
      least = away;
      best = pulls;
    }
  }
  return best;
}

/** Area turned away from its label's pull, each face counted by what it shows to the pull, mm2. */
function areaFacingAway(graph: FacingGraph, labels: Int32Array, pulls: readonly Vec3[]): number {
  let away = 0;
  for (let v = 0; v < graph.count; v++) {
    if (labels[v] < 0) continue;
    const d = pulls[labels[v]];
    away += Math.max(0, -(d[0] * graph.areaVectors[3 * v] + d[1] * graph.areaVectors[3 * v + 1]));
  }
  return away;
}

/** Per vertex the pull that it faces most; -1 off S. */
function labelByPull(
  graph: FacingGraph,
  smooth: readonly Float64Array[],
  pulls: readonly Vec3[],
): Int32Array {
  const [x, y] = smooth;
  const labels = new Int32Array(graph.count).fill(-1);
  for (let v = 0; v < graph.count; v++) {
    if (graph.areas[v] === 0) continue;
    let most = -Infinity;
    for (let k = 0; k < pulls.length; k++) {
      const facing = x[v] * pulls[k][0] + y[v] * pulls[k][1];
      if (facing > most) {
        most = facing;
        labels[v] = k;
      }
    }
  }
  return labels;
}

function checkEveryPull(labels: Int32Array, pulls: readonly Vec3[]): void {
  for (let k = 0; k < pulls.length; k++) {
    if (labels.includes(k)) continue;
    const deg = Math.round((Math.atan2(pulls[k][1], pulls[k][0]) * 180) / Math.PI);
    throw new PlanError(
      'bad-pull',
      `No part of the rubber is left to the piece that pulls towards ${deg} degrees. Choose fewer pieces or other pulls.`,
      'parting.pullAzimuthsDeg',
    );
  }
}

/** Labels spread and taken again, in place. Returns per label how strongly each vertex belongs to it; the label's own is the largest. */
async function straightenBorders(
  graph: SurfaceDiffusion,
  labels: Int32Array,
  pulls: readonly Vec3[],
  lengthMm: number,
  cp: Checkpoint,
): Promise<Float64Array[]> {
  const { count, areas, areaVectors } = graph;
  let values: Float64Array[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    // The last round only rounds the line off; the force would put back the mesh's own roughness.
    const weight = round < ROUNDS - 1 ? FACING_WEIGHT : 0;
    const own = cp.within(round / ROUNDS, (round + 1) / ROUNDS, 'smoothing the line');
    const next: Float64Array[] = [];
    // Two labels need one field: the other is its negative.
    const fields = pulls.length === 2 ? 1 : pulls.length;
    for (let k = 0; k < fields; k++) {
      const d = pulls[k];
      const right = new Float64Array(count);
      for (let v = 0; v < count; v++) {
        if (labels[v] < 0) continue;
        const facing = d[0] * areaVectors[3 * v] + d[1] * areaVectors[3 * v + 1];
        right[v] = (labels[v] === k ? areas[v] : -areas[v]) + weight * facing;
      }
      next.push(
        await graph.spread(right, lengthMm, own.within(k / fields, (k + 1) / fields, 'smoothing the line')),
      );
    }
    if (fields === 1) next.push(next[0].map((x) => -x));
    values = next;
    for (let v = 0; v < count; v++) {
      if (labels[v] < 0) continue;
      let best = 0;
      for (let k = 1; k < pulls.length; k++) if (values[k][v] > values[best][v]) best = k;
      labels[v] = best;
    }
    absorbIslands(graph, labels, pulls.length);
    checkEveryPull(labels, pulls);
  }
  return values;
}
