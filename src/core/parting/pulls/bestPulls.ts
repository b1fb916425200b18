import type { Checkpoint } from '../../checkpoint.ts';
import type { TriMesh, Vec3 } from '../../mesh/TriMesh.ts';
import type { PullFigures, PullsResult } from '../../PlanResult.ts';
import { frameOf } from '../undercut/PullFrame.ts';
import { comparePulls } from './comparePulls.ts';
import { type FaceMeasures, measureFaces } from './FaceMeasures.ts';
import { largestDraft } from './largestDraft.ts';
import { SweepRaster } from './SweepRaster.ts';
import { type RegionFigures, sumFigures } from './sumFigures.ts';
import type { FaceSweep } from './sweepFaces.ts';

/** The search round the best of the grid ends at steps of this. */
const FINEST_STEP_DEG = 0.5;

/** From so many of the grid's best directions the search sets out, where no direction clears the piece. */
const STARTS = 2;

export interface BestPullsInput {
  /** The mesh that was swept. */
  readonly mesh: TriMesh;
  /** By face of it the region, or -1. */
  readonly labels: Int32Array;
  /** The present pulls, by region. */
  readonly pulls: readonly Vec3[];
  /** How far the rubber yields, mm. */
  readonly giveMm: number;
  readonly standsOnBoard: boolean;
  /** The directions that were swept, n x 3, and their distance. */
  readonly directions: Float32Array;
  readonly stepDeg: number;
  readonly sweep: FaceSweep;
}

/**
 * For each piece by itself the best pull, its present one measured in the same way (the best where none is found that is
 * better), and all directions of the grid that clear it. Only the rubber (and the board) stands in the way, no other piece.
 *
 * A direction clears a piece when nothing of it locks deeper than the rubber yields, or than a pixel of the raster, below
 * which it cannot tell. Among those the best has the largest least draft: the centre of the smallest cap of normals where
 * that clears the piece, else what a search round the grid's best finds. Where none clears, the least depth wins, then the
 * least filler. Cost: 15 ms a piece where the cap's centre does, else some 60 looks of about 5 ms. Cancels at its checkpoint.
 */
export async function bestPulls(input: BestPullsInput, cp: Checkpoint): Promise<PullsResult[]> {
  const raster = new SweepRaster(input.mesh, input.standsOnBoard);
  const faces = measureFaces(input.mesh);
  const grid = gridFigures(input, faces);
  const results: PullsResult[] = [];
  for (let region = 0; region < input.pulls.length; region++) {
    const done = region / input.pulls.length;
    await cp.pause(done);
    const looker = new PieceLooker(input, raster, faces, region);
    const onGrid = grid.map((figures, i) => lookFrom(figures, region, gridDirection(input.directions, i)));
    const clearing = onGrid.filter((look) => looker.isClear(look));
    const present = looker.look(input.pulls[region]);
    const found = await findBest(looker, onGrid, clearing, cp, done);
    results.push({
      best: asFigures(looker.compare(found, present) < 0 ? found : present),
      present: asFigures(present),
      clearing: clearing.map((look) => look.pull),
      stepDeg: input.stepDeg,
    });
  }
  await cp.pause(1);
  return results;
}

/** A pull of one piece, measured. */
interface Look {
  readonly pull: Vec3;
  readonly leastSine: number;
  readonly areaMm2: number;
  readonly depthMm: number;
  readonly fillerMm3: number;
}

class PieceLooker {
  /** What the raster cannot tell from nothing, or the rubber yields. */
  private readonly clearMm: number;
  private readonly labels: Int32Array;
  private readonly hidden: Uint8Array;
  private readonly depthMm: Float32Array;

  constructor(
    private readonly input: BestPullsInput,
    private readonly raster: SweepRaster,
    private readonly faces: FaceMeasures,
    region: number,
  ) {
    this.clearMm = Math.max(input.giveMm, raster.pixelMm);
    this.labels = input.labels.map((label) => (label === region ? 0 : -1));
    this.hidden = new Uint8Array(this.labels.length);
    this.depthMm = new Float32Array(this.labels.length);
  }

  look(pull: Vec3): Look {
    const frame = frameOf(pull);
    this.raster.look(frame, this.hidden, this.depthMm);
    const [dx, dy, dz] = frame.d;
    const { standsOnBoard } = this.input;
    const { faces, labels, hidden, depthMm } = this;
    return lookFrom(sumFigures(faces, labels, 1, dx, dy, dz, hidden, depthMm, standsOnBoard), 0, frame.d);
  }

  isClear(look: Look): boolean {
    return look.depthMm <= this.clearMm;
  }

  /** Below 0 when `a` is the better one. */
  compare(a: Look, b: Look): number {
    const isClearA = this.isClear(a);
    const isClearB = this.isClear(b);
    if (isClearA !== isClearB) return isClearA ? -1 : 1;
    return isClearA ? b.leastSine - a.leastSine : comparePulls(a, b, this.raster.pixelMm / 2);
  }

  /** The pull that leans most towards all of the piece's normals; null when some look away from every pull. */
  centreOfNormals(): Vec3 | null {
    const { normals, areaMm2 } = this.faces;
    const own: number[] = [];
    for (let t = 0; t < this.labels.length; t++) {
      if (this.labels[t] < 0 || areaMm2[t] === 0) continue;
      own.push(normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]);
    }
    return largestDraft(Float64Array.from(own), this.input.standsOnBoard)?.pull ?? null;
  }

  /** The direction turned by an angle towards one square to it; null when that goes down through the board. */
  neighbour(pull: Vec3, stepRad: number, towards: number): Vec3 | null {
    const { u, v, d } = frameOf(pull);
    const side = Math.sin(stepRad);
    const cu = side * Math.cos(towards);
    const cv = side * Math.sin(towards);
    const along = Math.cos(stepRad);
    const turned = [0, 1, 2].map((k) => along * d[k] + cu * u[k] + cv * v[k]);
    if (this.input.standsOnBoard && turned[2] < 0) {
      const level = Math.hypot(turned[0], turned[1]);
      // Down to the horizon is as far as the board lets it go.
      return d[2] > 0 && level > 0 ? [turned[0] / level, turned[1] / level, 0] : null;
    }
    return [turned[0], turned[1], turned[2]];
  }
}

async function findBest(
  looker: PieceLooker,
  onGrid: readonly Look[],
  clearing: readonly Look[],
  cp: Checkpoint,
  done: number,
): Promise<Look> {
  const centre = looker.centreOfNormals();
  if (centre) {
    const look = looker.look(centre);
    if (looker.isClear(look)) return look;
  }
  const ranked = [...(clearing.length > 0 ? clearing : onGrid)].sort((a, b) => looker.compare(a, b));
  let best: Look | null = null;
  for (const start of ranked.slice(0, clearing.length > 0 ? 1 : STARTS)) {
    const found = await searchAround(looker, start, cp, done);
    if (best === null || looker.compare(found, best) < 0) best = found;
  }
  return best ?? looker.look([0, 0, 1]);
}

/** Pattern search (Hooke & Jeeves 1961): to the best of four neighbours while one is better, then half the step. */
async function searchAround(looker: PieceLooker, start: Look, cp: Checkpoint, done: number): Promise<Look> {
  let best = start;
  for (let stepDeg = 4; stepDeg >= FINEST_STEP_DEG; stepDeg /= 2) {
    let isMoving = true;
    while (isMoving) {
      isMoving = false;
      let next = best;
      for (let quarter = 0; quarter < 4; quarter++) {
        const pull = looker.neighbour(best.pull, (stepDeg * Math.PI) / 180, (quarter * Math.PI) / 2);
        if (pull === null) continue;
        if (cp.due()) await cp.pause(done);
        const look = looker.look(pull);
        if (looker.compare(look, next) < 0) next = look;
      }
      if (next !== best) {
        best = next;
        isMoving = true;
      }
    }
  }
  return best;
}

function gridFigures(input: BestPullsInput, faces: FaceMeasures): RegionFigures[] {
  const { labels, pulls, directions, sweep, standsOnBoard } = input;
  return Array.from({ length: sweep.directionCount }, (_, i) =>
    sumFigures(
      faces,
      labels,
      pulls.length,
      directions[3 * i],
      directions[3 * i + 1],
      directions[3 * i + 2],
      sweep.hidden.subarray(i * sweep.faceCount, (i + 1) * sweep.faceCount),
      sweep.depthMm.subarray(i * sweep.faceCount, (i + 1) * sweep.faceCount),
      standsOnBoard,
    ),
  );
}

const gridDirection = (directions: Float32Array, i: number): Vec3 => [
  directions[3 * i],
  directions[3 * i + 1],
  directions[3 * i + 2],
];

function lookFrom(figures: RegionFigures, region: number, pull: Vec3): Look {
  return {
    pull,
    leastSine: figures.leastSine[region],
    areaMm2: figures.areaMm2[region],
    depthMm: figures.depthMm[region],
    fillerMm3: figures.fillerMm3[region],
  };
}

function asFigures({ pull, leastSine, areaMm2, depthMm, fillerMm3 }: Look): PullFigures {
  const leastDraftDeg = (Math.asin(Math.max(-1, Math.min(1, leastSine))) * 180) / Math.PI;
  return { pull, leastDraftDeg, areaMm2, maxDepthMm: depthMm, fillerMm3 };
}
