import type { Checkpoint } from '../../checkpoint.ts';
import { PlanError } from '../../errors.ts';
import type { TriMesh, Vec3 } from '../../mesh/TriMesh.ts';
import type { PartingLinePlan, PiecePlan } from '../../plan/PlanDocument.ts';
import { uniteSolids } from '../../shell/uniteSolids.ts';
import { SurfaceTree } from '../../spatial/SurfaceTree.ts';
import { cutSurface } from '../cutSurface.ts';
import { joinAlongSurface } from '../joinAlongSurface.ts';
import type { PartingStep } from '../planParting.ts';
import { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface, SurfacePath } from '../types.ts';
import { frameOf } from '../undercut/PullFrame.ts';
import { acceptSpots } from './acceptSpots.ts';
import { anchorPieces } from './anchorPieces.ts';
import { type BlockOut, type BlockOutInput, isFillable } from './BlockOut.ts';
import { carryLines } from './carryLines.ts';
import { contourFiller } from './contourFiller.ts';
import type { FillerGrid } from './FillerGrid.ts';
import { FillerRule, FillerSurfaces } from './FillerRule.ts';
import { growFiller } from './growFiller.ts';
import { keepFiller } from './keepFiller.ts';
import { retraceLines } from './retraceLines.ts';
import { scanOfUnion } from './scanOfUnion.ts';

/** A pull that points down by more than this (sine) into the board cannot be freed by filler. */
const DOWN_SINE = 1e-3;

/** How closely a carried line keeps to its place, in cells: tried in this order. */
const THIN_CELLS: readonly number[] = [0.35, 1, 2.5, 6];

/**
 * Counting cells is off by their surface's own chance: each border cell by up to half of itself, evenly spread, has a
 * standard deviation of 1 / sqrt(12); three of those are allowed for.
 */
const COUNT_DEVIATIONS = 3 / Math.sqrt(12);

/**
 * The accepted undercuts filled, and rubber and filler made one body, with the lines and pieces carried over to it; null
 * when nothing accepted is large enough for a cell.
 *
 * Filler of a piece: the points outside the rubber, above the board, nearer to the piece's surface than to any other's
 * (the parting wall is where both are equally near), from which the ray along the pull meets rubber; of those the
 * connected parts that touch an accepted spot. No draft is added. Spots that such a part touches besides are filled with
 * it. Pulls down into the board are left alone: there is nothing to fill against.
 *
 * `volumeMm3` is what the piece's filler adds to the rubber (and to the pieces before it); `volumeErrorMm3` its distance
 * from a count of the cells, the count's own chance, and what the union shut off or left out.
 *
 * @throws PlanError 'bad-plan' -> the scan does not close; 'bad-pull' -> the filler has no end; 'too-fine' -> too many
 *   cells; 'bad-line' -> a line, which is named, cannot be carried over the filler, or no longer parts the same pieces.
 * Cost: about 0.3 ms a brick of 512 cells in the open, 5 ms on the rubber; the union about 5 microseconds a triangle.
 * Source: own; the filler as the volume under a heightfield as in Khardekar and McMains, Fast layered manufacturing
 *   support volume computation on GPUs, 2006 (known by its abstract).
 */
export async function fillUndercuts(input: BlockOutInput, cp: Checkpoint): Promise<BlockOut | null> {
  const { scan, surface, parting, undercut, accepted, giveMm, cellMm } = input;
  const isAccepted = acceptSpots(parting.cut, undercut, accepted, giveMm, surface.diagonalMm);
  const tris = acceptedTris(input, isAccepted);
  if (tris.every((list) => list.length === 0)) return null;
  if (scan.volumeMm3 === null) {
    throw new PlanError(
      'bad-plan',
      'Filler needs a rubber that closes, and this scan has holes left open. Raise the limit for filling holes, crop the scan, or go on without filler.',
      'parting.blockOut',
    );
  }
  const frames = parting.pieces.map((piece, r) => (tris[r].length > 0 ? frameOf(piece.pull) : null));
  const surfaces = new FillerSurfaces(scan.mesh, parting.cut, scan.standsOnBoard, frames);
  const grids: (FillerGrid | null)[] = [];
  const solids: TriMesh[] = [];
  const countedMm3: number[] = [];
  const chanceMm3: number[] = [];
  const filled = new Set<number>();
  const perCell = cellMm ** 3;
  for (let r = 0; r < frames.length; r++) {
    const phase = cp.within((0.7 * r) / frames.length, (0.7 * (r + 1)) / frames.length, 'filling undercuts');
    await phase.pause(0);
    const made = await fillPiece(input, surfaces, r, tris[r], isAccepted, phase);
    grids.push(made?.grid ?? null);
    countedMm3.push(perCell * (made?.cellCount ?? 0));
    chanceMm3.push(perCell * COUNT_DEVIATIONS * Math.sqrt(made?.borderCount ?? 0));
    if (!made) continue;
    solids.push(made.solid);
    for (const spot of made.spots) filled.add(spot);
  }
  const standing = grids.filter((grid): grid is FillerGrid => grid !== null);
  if (standing.length === 0) return null;

  await cp.within(0, 1, 'joining rubber and filler').pause(0.7);
  const union = await uniteSolids(scan.mesh, solids, scan.standsOnBoard);
  const carrying = cp.within(0, 1, 'carrying the lines over the filler');
  await carrying.pause(0.85);
  let n = 0;
  const volumeMm3 = grids.map((grid) => (grid === null ? 0 : union.addedMm3[n++]));
  const strayMm3 = Math.abs(
    union.volumeMm3 - union.bodyMm3 - volumeMm3.reduce((sum, volume) => sum + volume, 0),
  );
  const anchors = anchorPieces(parting, standing, new SurfaceTree(union.mesh));
  const whole = scanOfUnion(scan, union.mesh, anchors, filled.size, volumeMm3);
  const after = new SurfaceContext(whole);
  await carrying.pause(0.92);
  const lines = await layLines(
    input,
    after,
    standing,
    anchors,
    cp.within(0.92, 1, 'carrying the lines over the filler'),
  );
  await carrying.pause(1);
  return {
    filler: union.parts,
    volumeMm3,
    volumeErrorMm3: volumeMm3.map((volume, r) =>
      grids[r] === null ? 0 : Math.abs(volume - countedMm3[r]) + chanceMm3[r] + strayMm3,
    ),
    filled: [...filled].sort((a, b) => a - b),
    scan: whole,
    lines,
    pieces: parting.pieces.map(({ name, pull }, r): PiecePlan => ({ anchorMm: anchors[r], name, pull })),
  };
}

/** By region the cut triangles of accepted spots that filler can free. */
function acceptedTris({ scan, parting, undercut }: BlockOutInput, isAccepted: Uint8Array): number[][] {
  const { cutTriRegion, regionCount } = parting.cut;
  const out: number[][] = Array.from({ length: regionCount }, () => []);
  for (let t = 0; t < cutTriRegion.length; t++) {
    const region = cutTriRegion[t];
    const spot = undercut.triSpot[t];
    if (region < 0 || spot < 0 || !isAccepted[spot] || !isFillable(undercut.triKind[t])) continue;
    if (scan.standsOnBoard && parting.pieces[region].pull[2] < -DOWN_SINE) continue;
    out[region].push(t);
  }
  return out;
}

interface PieceFiller {
  readonly grid: FillerGrid;
  readonly solid: TriMesh;
  readonly cellCount: number;
  readonly borderCount: number;
  readonly spots: ReadonlySet<number>;
}

async function fillPiece(
  input: BlockOutInput,
  surfaces: FillerSurfaces,
  region: number,
  tris: readonly number[],
  isAccepted: Uint8Array,
  cp: Checkpoint,
): Promise<PieceFiller | null> {
  const frame = surfaces.frames[region];
  if (frame === null) return null;
  const { parting, undercut, surface, scan, cellMm } = input;
  const rule = new FillerRule(surfaces, undercut, region, frame, cellMm);
  const name = parting.pieces[region].id;
  const grid = await growFiller(rule, parting.cut, tris, cellMm, surface.diagonalMm, name, cp);
  const kept = keepFiller(grid, undercut, isAccepted, scan.standsOnBoard);
  if (kept.cellCount === 0) return null;
  await cp.pause(1);
  return { grid, solid: contourFiller(grid, rule), ...kept };
}

/**
 * The lines on the new surface: traced anew where that gives one for each, else carried out along their rulings, as closely
 * as they can be laid: noise of the scan and of the filler's edges can tangle a
 * line through many points where one through fewer runs clear.
 */
async function layLines(
  { surface, parting, cellMm }: BlockOutInput,
  after: SurfaceContext,
  grids: readonly FillerGrid[],
  anchors: readonly Vec3[],
  cp: Checkpoint,
): Promise<PartingLinePlan[]> {
  let failure: unknown;
  const ways = [
    () => retraceLines(after, parting, cellMm, cp.within(0, 0.6, 'carrying the lines over the filler')),
    ...THIN_CELLS.map((cells) => () => carryLines(surface, after, parting, grids, cellMm, cells)),
  ];
  for (const [n, way] of ways.entries()) {
    if (n > 0) await cp.pause(0.6 + (0.4 * n) / ways.length);
    try {
      const lines = await way();
      if (lines === null) continue;
      checkPieces(after, parting, lines, anchors);
      return lines;
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
      failure ??= error;
    }
  }
  throw failure;
}

/** Throws PlanError 'bad-line' unless the lines part the new surface in the same pieces, in the same order. */
function checkPieces(
  surface: SurfaceContext,
  parting: PartingStep,
  lines: readonly PartingLinePlan[],
  anchors: readonly Vec3[],
): void {
  const paths: SurfacePath[] = [];
  for (const line of lines) {
    try {
      paths.push(joinAlongSurface(surface, line.points, line.closed, paths));
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
      throw cannotCarry(`Parting line ${line.id} cannot be carried over the filler: ${error.message}`);
    }
  }
  const names = lines.map((line) => line.id).join(', ');
  let cut: CutSurface;
  try {
    cut = cutSurface(surface, paths);
  } catch (error) {
    if (!(error instanceof PlanError)) throw error;
    throw cannotCarry(`Over the filler, parting line ${names} no longer parts anything: ${error.message}`);
  }
  const isSame =
    cut.regionCount === parting.cut.regionCount &&
    anchors.every((anchor, r) => cut.triRegion[surface.closestPoint(anchor).tri] === r);
  if (isSame) return;
  throw cannotCarry(
    lines.length === 1
      ? `Over the filler, parting line ${names} no longer parts the same pieces.`
      : `Over the filler, the parting lines ${names} no longer part the same pieces.`,
  );
}

function cannotCarry(why: string): PlanError {
  return new PlanError(
    'bad-line',
    `${why} Move the line away from the filler, or fill spot by spot.`,
    'parting.blockOut',
  );
}
