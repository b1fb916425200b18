import { innerDistanceMm } from '../core/assembleResult.ts';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { PlanRun } from '../core/computePlan.ts';
import { contourPieces, type LookSurface } from '../core/field/contourPieces.ts';
import { sideOfPieces } from '../core/field/sideOfPieces.ts';
import { buildFlangeLook } from '../core/parting/buildFlangeLook.ts';
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
      cp.within(0.3, 1, 'drawing the shell'),
    ),
  );
  const pieces = parting.pieces.map(
    (piece, region): PiecePicture => ({
      id: piece.id,
      pull: piece.pull,
      rubber: regionPicture(parting.cut, region),
      shell: withFlange(run, plan, region, shells[region], outerMm, innerMm),
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

function withFlange(
  run: PlanRun,
  plan: PlanDocument,
  region: number,
  shell: LookSurface,
  outerMm: number,
  innerMm: number,
): SurfacePicture {
  const { flange } = plan.parting;
  if (!run.wall || !flange || flange.widthMm + innerMm <= outerMm)
    return { positions: shell.positions.slice(), indices: shell.indices.slice() };
  const slab = buildFlangeLook(
    run.wall,
    region,
    // A little into the shell, so that no gap shows where the shell is rounded.
    Math.max(innerMm, outerMm - run.lookField.cellMm),
    flange.widthMm + innerMm,
    flange.thicknessMm,
  );
  const positions = new Float32Array(shell.positions.length + slab.positions.length);
  positions.set(shell.positions);
  positions.set(slab.positions, shell.positions.length);
  const offset = shell.positions.length / 3;
  const indices = new Uint32Array(shell.indices.length + slab.indices.length);
  indices.set(shell.indices);
  for (let i = 0; i < slab.indices.length; i++) indices[shell.indices.length + i] = slab.indices[i] + offset;
  return { positions, indices };
}
