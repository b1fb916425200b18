import type { AssembleInput } from './assembleResult.ts';
import type { PieceResult } from './PlanResult.ts';
import { leaveLinesClear } from './parting/leaveLinesClear.ts';
import { ballsOf } from './plan/ballsOf.ts';
import { totalThicknessMm } from './plan/totalThicknessMm.ts';
import type { CastingGround } from './work/casting/CastingGround.ts';
import { centreOfCast } from './work/casting/centreOfCast.ts';
import type { LiftingGround } from './work/lifting/LiftingGround.ts';

/** What presses on the mould when it is filled, from the cut surface and the pieces' figures. */
export function castingGround(
  { plan, scan, parting }: Pick<AssembleInput, 'plan' | 'scan' | 'parting'>,
  pieces: readonly PieceResult[],
  rubberMm3: number,
  rubberG: number,
): CastingGround {
  const { positions, indices, cutTriRegion } = parting.cut;
  const keepClear = ballsOf(plan.scan.keepClear);
  return {
    positions,
    indices,
    triRegion: cutTriRegion,
    pieces: pieces.map(({ id, name, pull, dryMassG }) => ({ id, name, pull, dryMassG })),
    // Nothing is bolted where nothing is laid.
    lines: parting.chains.flatMap((chain) => {
      const runs = leaveLinesClear([chain], keepClear);
      return runs.map(({ points }) => ({
        between: [parting.pieces[chain.left].id, parting.pieces[chain.right].id] as const,
        points: Array.from(
          { length: points.length / 3 },
          (_, n) => [points[3 * n], points[3 * n + 1], points[3 * n + 2]] as const,
        ),
        isRun: runs.length > 1,
        isCut: runs[0] !== chain,
      }));
    }),
    thicknessMm: totalThicknessMm(plan.coats),
    flange: plan.parting.flange,
    enclosedMm3: scan.volumeMm3,
    // A bare pattern is the cast's own face: no rubber lies within it.
    rubberMm3: plan.scan.is === 'pattern' ? 0 : rubberMm3,
    rubberG,
    strength: plan.material.strength,
  };
}

/** What is lifted: the pieces wet and dry, the rubber shared out by area, the cast. */
export function liftingGround(
  { plan, pressure }: Pick<AssembleInput, 'plan' | 'pressure'>,
  pieces: readonly PieceResult[],
  rubberG: number,
  castG: number | null,
): LiftingGround {
  const areaMm2 = pieces.reduce((sum, piece) => sum + piece.areaMm2, 0);
  return {
    pieces: pieces.map((piece, region) => ({
      id: piece.id,
      name: piece.name,
      wetG: piece.massG,
      dryG: piece.dryMassG,
      wetCentreMm: piece.centreOfMassMm,
      dryCentreMm: piece.dryCentreOfMassMm,
      boxMm: piece.boxMm,
      rubberShareG: areaMm2 > 0 ? (rubberG * piece.areaMm2) / areaMm2 : 0,
      rubberCentreMm: pressure?.centres.regions[region] ?? null,
    })),
    rubberG,
    rubberCentreMm: pressure?.centres.whole ?? null,
    castG,
    castCentreMm: pressure && centreOfCast(plan.casting, pressure),
  };
}
