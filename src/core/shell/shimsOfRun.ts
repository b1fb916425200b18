import { innerDistanceMm, outerDistanceMm } from '../assembleResult.ts';
import type { PlanRun } from '../computePlan.ts';
import { layRulings } from '../parting/layRulings.ts';
import { leaveLinesClear } from '../parting/leaveLinesClear.ts';
import { ballsOf } from '../plan/ballsOf.ts';
import { type FlatShim, flattenShim } from './flattenShim.ts';

/** One line's parting wall, laid flat. */
export interface LineShim {
  /** Names of the pieces to either side. */
  readonly between: readonly [string, string];
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly isClosed: boolean;
  readonly shim: FlatShim;
}

/** Rulings so far apart along the line, mm: finer than scissors follow. */
const RULING_STEP_MM = 2;
/** Normals are averaged over this share of the width to either side along the line: sheet does not follow finer turns. Own choice. */
const WINDOW_SHARE = 0.5;
/** A wall without a flange stands out this far over the shell, mm: something to work against. Common practice, no source. */
const STAND_OUT_MM = 10;

/** The parting wall of every line, off what is kept clear, laid flat, from the rubber to the flange's edge. Cost: O(points of the lines). */
export function shimsOfRun({ plan, scan, parting }: Pick<PlanRun, 'plan' | 'scan' | 'parting'>): LineShim[] {
  const { flange } = plan.parting;
  const innerMm = innerDistanceMm(plan);
  const widthMm = flange?.widthMm ?? outerDistanceMm(plan) - innerMm + STAND_OUT_MM;
  const windowMm = WINDOW_SHARE * widthMm;
  return leaveLinesClear(parting.chains, ballsOf(plan.scan.keepClear)).map((chain) => {
    const { feet, normals } = layRulings(scan.mesh, parting.cut.segments, chain, RULING_STEP_MM, windowMm);
    // Over a bare pattern the wall stands on the rubber that is still to be brushed.
    const onRubber = feet.map((x, i) => x + innerMm * normals[i]);
    return {
      between: [parting.pieces[chain.left].name, parting.pieces[chain.right].name] as const,
      lengthMm: chain.lengthMm,
      widthMm,
      isClosed: chain.isClosed,
      shim: flattenShim({ feet: onRubber, normals }, widthMm),
    };
  });
}
