import { innerDistanceMm } from '../core/assembleResult.ts';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { PlanRun } from '../core/computePlan.ts';
import { buildBandField } from '../core/field/buildBandField.ts';
import { affordCellMm } from '../core/field/chooseCell.ts';
import { contourPieces, type LookSurface } from '../core/field/contourPieces.ts';
import { sideOfPieces } from '../core/field/sideOfPieces.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import { contourFlange } from '../core/parting/contourFlange.ts';
import { ballsOf } from '../core/plan/ballsOf.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { StepCache } from '../core/StepCache.ts';
import { SurfaceTree } from '../core/spatial/SurfaceTree.ts';
import { drawGround, drawRegions } from './drawGround.ts';
import { drawTouch } from './drawTouch.ts';
import { drawUndercut, type LockedTriangles } from './drawUndercut.ts';
import type { PiecePicture, PlanGeometry, SurfacePicture, TouchPicture } from './protocol.ts';
import { copyPicture, shadePicture } from './shadePicture.ts';

/** What stands later than the pieces, or only for some plans. */
export interface PlanExtras {
  /** By triangle of the run's cut mesh; null until the undercuts stand. */
  readonly locked: LockedTriangles | null;
  /** Filler that the shell was planned over, as a closed surface; null when there is none. */
  readonly filler: TriMesh | null;
}

const NO_EXTRAS: PlanExtras = { locked: null, filler: null };

/**
 * What the page shows of a run: the rubber (when it is new), each piece's part of it and shell, the lines, the marks; with
 * the undercuts also what locks and what touches as the pieces slide.
 */
export async function drawPlan(
  run: PlanRun,
  plan: PlanDocument,
  isRubberNew: boolean,
  cache: StepCache,
  cp: Checkpoint,
  { locked, filler }: PlanExtras = NO_EXTRAS,
): Promise<PlanGeometry> {
  const { parting, source, lookField } = run;
  const innerMm = innerDistanceMm(plan);
  const outerMm = run.result.shell.thicknessMm + innerMm;
  // The final answer is drawn from the same field as the rough one: what was drawn then is copied, not drawn again.
  const side = await cache.remember('look sides', run.lookKey, () =>
    sideOfPieces(
      lookField.grid,
      source,
      parting.cut,
      ballsOf(plan.scan.keepClear),
      cp.within(0, 0.25, 'drawing the pieces'),
    ),
  );
  const shells = await cache.remember('look shells', `${run.lookKey} ${innerMm} ${outerMm}`, () =>
    contourPieces(
      lookField.grid,
      source.standsOnBoard,
      innerMm,
      outerMm,
      parting.cut.regionCount,
      side,
      cp.within(0.25, 0.55, 'drawing the shell'),
    ),
  );
  const flanges = await drawFlanges(
    run,
    plan,
    outerMm,
    innerMm,
    cache,
    cp.within(0.55, 0.8, 'drawing the flange'),
  );
  const looksKey = `${run.lookKey} ${innerMm} ${outerMm} ${JSON.stringify(plan.parting.flange)}`;
  const looks = await cache.remember('shaded shells', looksKey, () =>
    parting.pieces.map((_, region) => shadePicture(joinLooks(shells[region], flanges[region]))),
  );
  const touches = locked
    ? await drawTouches(run, plan, looks, cache, cp.within(0.8, 1, 'sliding the pieces apart'))
    : null;
  const regions = await drawRegions(run, cache);
  const pieces = parting.pieces.map((piece, region): PiecePicture => {
    const { part, look } = regions[region];
    return {
      id: piece.id,
      pull: piece.pull,
      rubber: copyPicture(look),
      shell: copyPicture(looks[region]),
      undercut: locked && drawUndercut(part, locked),
      touch: touches?.[region] ?? null,
    };
  });
  return { ...drawGround(run, isRubberNew, filler), pieces };
}

/**
 * Where the shells touch, region by region. Remembered by what the shells and pulls were made from, and copied: pictures are
 * handed over to the page.
 */
async function drawTouches(
  run: PlanRun,
  plan: PlanDocument,
  looks: readonly SurfacePicture[],
  cache: StepCache,
  cp: Checkpoint,
): Promise<readonly TouchPicture[]> {
  const { scan, parting, lookField, lookKey, scanKey } = run;
  // The drawn shell is good to half a cell; and what the rubber yields is no touching.
  const slackMm = Math.max(lookField.cellMm / 2, plan.parting.rubberGiveMm);
  const pulls = parting.pieces.map((piece) => piece.pull);
  const { flange } = plan.parting;
  const reads = JSON.stringify([run.result.shell.thicknessMm, innerDistanceMm(plan), flange, pulls, slackMm]);
  const kept = await cache.remember('touches', lookKey + reads, async () => {
    const tree = await cache.remember('rubber tree', scanKey, () => new SurfaceTree(scan.mesh));
    const made: TouchPicture[] = [];
    for (const [region, look] of looks.entries()) {
      const part = cp.within(region / looks.length, (region + 1) / looks.length, 'sliding the pieces apart');
      made.push(await drawTouch(scan.mesh, tree, look, pulls[region], slackMm, part));
    }
    return made;
  });
  return kept.map(({ fromMm, toMm }) => ({ fromMm: fromMm.slice(), toMm: toMm.slice() }));
}

/** Cells of the drawn flange to its thickness: its edges are rounded by one. */
const FLANGE_LOOK_CELLS = 4;

/** The flanges, region by region, or none. */
function drawFlanges(
  run: PlanRun,
  plan: PlanDocument,
  outerMm: number,
  innerMm: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<readonly LookSurface[]> {
  const { wall, source, lookField } = run;
  const { flange } = plan.parting;
  if (!wall || !flange || flange.widthMm + innerMm <= outerMm) return Promise.resolve([]);
  const { thicknessMm } = flange;
  const toMm = flange.widthMm + innerMm;
  const cellMm = affordCellMm(thicknessMm / FLANGE_LOOK_CELLS, run.result.rubber.areaMm2, toMm);
  return cache.remember('look flange', `${run.lookKey} ${outerMm} ${toMm} ${thicknessMm}`, async () => {
    const far = await cache.remember('look far', `${run.scanKey} ${cellMm} ${toMm}`, () =>
      buildBandField(
        source,
        cellMm,
        toMm + cellMm,
        run.scan.volumeMm3 !== null,
        cp.within(0, 0.6, 'drawing the flange'),
      ),
    );
    // A little into the shell, so that no gap shows where the shell is rounded.
    const fromMm = Math.max(innerMm, outerMm - lookField.cellMm);
    return contourFlange(
      source,
      far,
      wall,
      run.parting.cut,
      thicknessMm,
      fromMm,
      toMm,
      ballsOf(plan.scan.keepClear),
      cp.within(0.6, 1, 'drawing the flange'),
    );
  });
}

/** Both surfaces as one, copied: the cache keeps its own. */
function joinLooks(shell: LookSurface, flange: LookSurface | undefined): SurfacePicture {
  if (!flange) return { positions: shell.positions.slice(), indices: shell.indices.slice() };
  const positions = new Float32Array(shell.positions.length + flange.positions.length);
  positions.set(shell.positions);
  positions.set(flange.positions, shell.positions.length);
  const offset = shell.positions.length / 3;
  const indices = new Uint32Array(shell.indices.length + flange.indices.length);
  indices.set(shell.indices);
  for (let i = 0; i < flange.indices.length; i++)
    indices[shell.indices.length + i] = flange.indices[i] + offset;
  return { positions, indices };
}
