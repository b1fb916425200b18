import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { LineChain } from '../chainSegments.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface } from '../types.ts';
import { findBlockedPairs } from './findBlockedPairs.ts';
import { PieceCells } from './PieceCells.ts';
import { makePullPlan } from './PullPlan.ts';
import { makeUndercutBody } from './UndercutBody.ts';
import { wallDraft } from './wallDraft.ts';

/**
 * Which pieces stand in whose way, by itself: regionCount x regionCount, row-major, 1 at [i, j] when j has to be off
 * before i can move. For `orderRemoval`. @param pulls by region. @param shellMm outer distance of the shell.
 * Throws PlanError 'bad-pull' -> a pull without direction. Cost: 0.2 s for 100 000 triangles, mostly trees and columns.
 */
export async function blockedPairs(
  surface: SurfaceContext,
  cut: CutSurface,
  chains: readonly LineChain[],
  pulls: readonly Vec3[],
  shellMm: number,
  cp: Checkpoint,
): Promise<Uint8Array> {
  if (cut.regionCount < 2) return new Uint8Array(cut.regionCount);
  const body = makeUndercutBody(surface, cut);
  const plans = pulls.map((pull) => makePullPlan(body, pull));
  const walls = wallDraft(
    surface,
    cut.segments,
    chains,
    cut.regionCount,
    plans.map(({ frame }) => frame.d),
    shellMm,
  );
  await cp.pause(0.2);
  return findBlockedPairs(
    body,
    plans,
    new PieceCells(body),
    walls,
    shellMm,
    cp.within(0.2, 1, 'seeing what comes off first'),
  );
}
