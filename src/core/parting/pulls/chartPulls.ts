import type { TriMesh } from '../../mesh/TriMesh.ts';
import { comparePulls } from './comparePulls.ts';
import { measureFaces } from './FaceMeasures.ts';
import type { PullChart } from './PullChart.ts';
import { sumFigures } from './sumFigures.ts';
import type { FaceSweep } from './sweepFaces.ts';

/** How many of the best directions are named, and how far apart they have to be. */
const MOST_BEST = 5;
const APART_DEG = 20;

export interface ChartInput {
  /** The mesh that was swept. */
  readonly mesh: TriMesh;
  /** By face of it the region; only for the chart of one piece. */
  readonly labels: Int32Array;
  /** The piece's region, or 'mould' for the whole. */
  readonly of: PullChart['of'];
  /** The directions that were swept, n x 3, as directionGrid gives them, and their distance. */
  readonly directions: Float32Array;
  readonly stepDeg: number;
  readonly sweep: FaceSweep;
  readonly standsOnBoard: boolean;
}

/**
 * How bad each direction is: for one piece, or for the mould parted in two.
 *
 * 'mould' takes a direction with its opposite, and counts what is hidden from both, each face for the side from which it
 * locks less deep. On a board nothing moves down: the opposite of a direction is then that of opposite azimuth at the same
 * tilt, and straight up stands alone. Areas are of hidden faces, shallow ones too; sumFigures.ts tells how good the filler
 * is. Cost: 0.2 ms a direction for 15 000 faces.
 */
export function chartPulls(input: ChartInput): PullChart {
  const { mesh, labels, of, directions, sweep, standsOnBoard } = input;
  const faces = measureFaces(mesh);
  const count = directions.length / 3;
  const areaMm2 = new Float32Array(count);
  const depthMm = new Float32Array(count);
  const fillerMm3 = new Float32Array(count);
  const sides = new Int32Array(sweep.faceCount);
  const own = of === 'mould' ? sides : labels.map((region) => (region === of ? 0 : -1));
  const opposite = of === 'mould' ? pairDirections(directions, standsOnBoard) : null;
  for (let i = 0; i < count; i++) {
    const j = opposite ? opposite[i] : i;
    if (j < i) {
      areaMm2[i] = areaMm2[j];
      depthMm[i] = depthMm[j];
      fillerMm3[i] = fillerMm3[j];
      continue;
    }
    if (opposite) chooseSides(sweep, i, j, sides);
    for (let side = 0; side < (j === i ? 1 : 2); side++) {
      const at = side === 0 ? i : j;
      const figures = sumFigures(
        faces,
        own,
        opposite ? 2 : 1,
        directions[3 * at],
        directions[3 * at + 1],
        directions[3 * at + 2],
        sweep.hidden.subarray(at * sweep.faceCount, (at + 1) * sweep.faceCount),
        sweep.depthMm.subarray(at * sweep.faceCount, (at + 1) * sweep.faceCount),
        standsOnBoard,
      );
      areaMm2[i] += figures.areaMm2[side];
      depthMm[i] = Math.max(depthMm[i], figures.depthMm[side]);
      fillerMm3[i] += figures.fillerMm3[side];
    }
  }
  const best = pickBest(directions, opposite, { areaMm2, depthMm, fillerMm3 }, sweep.pixelMm / 2);
  return { of, directions, areaMm2, depthMm, fillerMm3, best, stepDeg: input.stepDeg };
}

/** By face the side from which it locks less deep: 0 for direction i, 1 for j; where it is free from both, the one it is met by first. */
function chooseSides(sweep: FaceSweep, i: number, j: number, sides: Int32Array): void {
  const { hidden, depthMm, faceCount } = sweep;
  const a = i * faceCount;
  const b = j * faceCount;
  for (let t = 0; t < faceCount; t++) {
    if (!hidden[a + t]) sides[t] = 0;
    else if (!hidden[b + t]) sides[t] = 1;
    else sides[t] = depthMm[a + t] <= depthMm[b + t] ? 0 : 1;
  }
}

/** By direction the index of its opposite (on a board: of opposite azimuth, same tilt). */
function pairDirections(directions: Float32Array, standsOnBoard: boolean): Int32Array {
  const count = directions.length / 3;
  const pairs = new Int32Array(count);
  for (let i = 0; i < count; i++) {
    const x = -directions[3 * i];
    const y = -directions[3 * i + 1];
    const z = standsOnBoard ? directions[3 * i + 2] : -directions[3 * i + 2];
    let most = -Infinity;
    for (let j = 0; j < count; j++) {
      const along = x * directions[3 * j] + y * directions[3 * j + 1] + z * directions[3 * j + 2];
      if (along > most) {
        most = along;
        pairs[i] = j;
      }
    }
  }
  return pairs;
}

function pickBest(
  directions: Float32Array,
  opposite: Int32Array | null,
  figures: Pick<PullChart, 'areaMm2' | 'depthMm' | 'fillerMm3'>,
  stepMm: number,
): number[] {
  const meritOf = (i: number) => ({
    areaMm2: figures.areaMm2[i],
    depthMm: figures.depthMm[i],
    fillerMm3: figures.fillerMm3[i],
  });
  const order = Array.from({ length: directions.length / 3 }, (_, i) => i);
  // The lower number first where nothing tells two apart, so that the same scan gives the same answer.
  order.sort((a, b) => comparePulls(meritOf(a), meritOf(b), stepMm) || a - b);
  const apart = Math.cos((APART_DEG * Math.PI) / 180) + 1e-9;
  const best: number[] = [];
  for (const i of order) {
    if (best.length === MOST_BEST) break;
    const near = best.some((b) =>
      [b, opposite ? opposite[b] : b].some(
        (c) =>
          directions[3 * i] * directions[3 * c] +
            directions[3 * i + 1] * directions[3 * c + 1] +
            directions[3 * i + 2] * directions[3 * c + 2] >
          apart,
      ),
    );
    if (!near) best.push(i);
  }
  return best;
}
