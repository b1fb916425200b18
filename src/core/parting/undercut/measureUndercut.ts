import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { LineChain } from '../chainSegments.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface } from '../types.ts';
import { findBlockedPairs } from './findBlockedPairs.ts';
import { findHeldFaces } from './findHeldFaces.ts';
import { measurePiece, type PieceMeasure } from './measurePiece.ts';
import { PieceCells } from './PieceCells.ts';
import { makePullPlan } from './PullPlan.ts';
import { orderRemoval } from './removalOrder.ts';
import { makeUndercutBody } from './UndercutBody.ts';
import type { UndercutStep } from './UndercutStep.ts';
import { wallDraft } from './wallDraft.ts';

export interface UndercutInput {
  /** The scan: what stands in the way. */
  readonly surface: SurfaceContext;
  readonly cut: CutSurface;
  readonly chains: readonly LineChain[];
  /** By region, of any length. */
  readonly pulls: readonly Vec3[];
  /** How far the rubber yields, mm. */
  readonly giveMm: number;
  /** Outer distance of the shell, mm: how far the pieces reach in each other's way. */
  readonly shellMm: number;
  readonly standsOnBoard: boolean;
}

/**
 * What locks every piece for its pull, and in which order the pieces come off.
 *
 * All figures are by exact rays along the pull through the full mesh; only `cornerDepthMm`, which is for looking, is a map's.
 *
 * Throws PlanError 'bad-pull' -> a pull without direction; the abort reason when cancelled.
 * Cost: 0.3 s for 100 000 triangles in two pieces where little is hidden; about a second where much is.
 * Limits: a gap narrower than a 64th of the depth is not seen as a way out; see `measurePiece` for the filler.
 */
export async function measureUndercut(input: UndercutInput, cp: Checkpoint): Promise<UndercutStep> {
  const { surface, cut, chains, pulls, giveMm, shellMm } = input;
  const { regionCount } = cut;
  const body = makeUndercutBody(surface, cut, input.standsOnBoard);
  const plans = pulls.map((pull) => makePullPlan(body, pull));
  const walls = wallDraft(
    surface,
    cut.segments,
    chains,
    regionCount,
    plans.map(({ frame }) => frame.d),
    shellMm,
  );
  await cp.pause(0.1);
  const cells = new PieceCells(body);
  const blocked = await findBlockedPairs(
    body,
    plans,
    cells,
    walls,
    shellMm,
    cp.within(0.1, 0.25, 'seeing what comes off first'),
  );
  const removal = orderRemoval(blocked, regionCount);
  const triCount = cut.cutTriRegion.length;
  const paint = {
    triKind: new Uint8Array(triCount),
    triSpot: new Int32Array(triCount).fill(-1),
    cornerDepthMm: new Float32Array(3 * triCount),
  };
  const measures: PieceMeasure[] = [];
  for (let region = 0; region < regionCount; region++) {
    const phase = cp.within(
      0.25 + (0.75 * region) / regionCount,
      0.25 + (0.75 * (region + 1)) / regionCount,
      'measuring the undercuts',
    );
    const held = await findHeldFaces(
      body,
      region,
      plans[region],
      cells,
      removal,
      shellMm,
      phase.within(0, 0.2, 'measuring the undercuts'),
    );
    const first = measures.reduce((sum, piece) => sum + piece.spots.length, 0);
    measures.push(
      await measurePiece(
        { body, region, plan: plans[region], cells, walls, giveMm, held, paint, firstSpot: first },
        phase.within(0.2, 1, 'measuring the undercuts'),
      ),
    );
  }
  await cp.pause(1);
  return {
    pieces: measures.map(({ piece }) => piece),
    spots: measures.flatMap(({ spots }) => spots),
    removal,
    ...paint,
  };
}
