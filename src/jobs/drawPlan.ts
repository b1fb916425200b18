import { innerDistanceMm } from '../core/assembleResult.ts';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { PlanRun } from '../core/computePlan.ts';
import { buildBandField } from '../core/field/buildBandField.ts';
import { affordCellMm } from '../core/field/chooseCell.ts';
import { contourPieces, type LookSurface } from '../core/field/contourPieces.ts';
import { sideOfPieces } from '../core/field/sideOfPieces.ts';
import { contourFlange } from '../core/parting/contourFlange.ts';
import type { CutSurface } from '../core/parting/types.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { StepCache } from '../core/StepCache.ts';
import type { LinePicture, PiecePicture, PlanGeometry, SurfacePicture } from './protocol.ts';

/** What the page shows of a run: the rubber (when it is new), each piece's part of it and shell, the lines, the marks. */
export async function drawPlan(
  run: PlanRun,
  plan: PlanDocument,
  isRubberNew: boolean,
  cache: StepCache,
  cp: Checkpoint,
): Promise<PlanGeometry> {
  const { scan, parting, source, lookField } = run;
  const innerMm = innerDistanceMm(plan);
  const outerMm = run.result.shell.thicknessMm + innerMm;
  // The final answer is drawn from the same field as the rough one: what was drawn then is copied, not drawn again.
  const side = await cache.remember('look sides', run.lookKey, () =>
    sideOfPieces(
      lookField.grid,
      source,
      parting.cut,
      plan.scan.keepClear,
      cp.within(0, 0.3, 'drawing the pieces'),
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
      cp.within(0.3, 0.7, 'drawing the shell'),
    ),
  );
  const flanges = await drawFlanges(
    run,
    plan,
    outerMm,
    innerMm,
    cache,
    cp.within(0.7, 1, 'drawing the flange'),
  );
  const pieces = parting.pieces.map(
    (piece, region): PiecePicture => ({
      id: piece.id,
      pull: piece.pull,
      rubber: regionPicture(parting.cut, region),
      shell: joinLooks(shells[region], flanges[region]),
      undercut: null,
      touch: null,
    }),
  );
  return {
    rubber: isRubberNew
      ? { positions: Float32Array.from(scan.mesh.positions), indices: scan.mesh.indices.slice() }
      : null,
    pieces,
    lines: parting.paths.map(
      (path, n): LinePicture => ({
        id: parting.lines[n].id,
        closed: path.closed,
        path: Float32Array.from(path.points),
        controlPoints: Float32Array.from(parting.lines[n].points.flat()),
      }),
    ),
    marks: scan.marks.map((mark) => ({
      code: mark.code,
      points: Float32Array.from(mark.points),
      isLoop: mark.isLoop,
    })),
    filler: null,
  };
}

/** The cut mesh of one region, with only its own vertices. */
function regionPicture(cut: CutSurface, region: number): SurfacePicture {
  const to = new Int32Array(cut.positions.length / 3).fill(-1);
  const positions: number[] = [];
  const indices: number[] = [];
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    if (cut.cutTriRegion[t] !== region) continue;
    for (let k = 0; k < 3; k++) {
      const v = cut.indices[3 * t + k];
      if (to[v] < 0) {
        to[v] = positions.length / 3;
        positions.push(cut.positions[3 * v], cut.positions[3 * v + 1], cut.positions[3 * v + 2]);
      }
      indices.push(to[v]);
    }
  }
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) };
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
      cp.within(0.6, 1, 'drawing the flange'),
    );
  });
}

/** Both surfaces as one, copied: pictures are handed over to the page. */
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
