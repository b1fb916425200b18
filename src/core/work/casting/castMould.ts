import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { CastingResult } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { FREE_FALL_M_PER_S2 } from '../../units.ts';
import type { CastingGround, CastingPiece } from './CastingGround.ts';
import { centreOfPressure } from './centreOfPressure.ts';
import { filledVolume } from './filledVolume.ts';
import { findSeam } from './findSeam.ts';
import { type LineLoad, loadLine } from './LineLoad.ts';
import { massOfCast } from './massOfCast.ts';
import { type MouldPressure, pressMould } from './pressMould.ts';
import { PRESS, PRESS_WIDTH } from './pressOnRegions.ts';
import { sayCasting } from './sayCasting.ts';
import { type ScreenedPiece, screenPiece } from './screenPiece.ts';
import { shareOverLines } from './shareOverLines.ts';
import { type SpacedFastener, spaceFasteners } from './spaceFasteners.ts';

/**
 * What the fluid does to the filled mould: pressure, force and opening force of each piece from the true surface, fasteners
 * along the flange, uplift, the seam that leaks first, screening of the thickness, masses. Null when no piece has any surface or the surface
 * bounds nothing over the board, so that nothing says which way the fluid presses.
 *
 * The pressed face is the rubber's outer one, which is larger than the cast: forces come out too great by a little. Of a bare
 * pattern it is the pattern's own. Full head at once, the highest a pour can give; no credit for setting while pouring.
 *
 * `pressure` is `pressMould` of the same plan and ground, given by a caller who keeps it.
 *
 * Units and frame: CastingGround. Cost: that of `pressMould` where it is not given, else well under a millisecond.
 * Source: hydrostatics; formulas of the screening at their functions. Own: sharing over lines, spacing.
 * Limits: fluid at rest; no trapped air, no dropping stream, no vibration; a comparison, not a design.
 */
export function castMould(
  plan: PlanDocument,
  ground: CastingGround,
  pressure: MouldPressure | null = pressMould(plan.casting, ground),
): CastingResult | null {
  if (pressure === null) return null;
  const { pieces, flange } = ground;
  const { fill, press, wholeMm3, openMm2 } = pressure;
  const loads = pieces.map((piece, region) => pieceLoad(piece, region, press));

  const lines = ground.lines.flatMap(
    ({ between, points, isRun }) => loadLine(between, points, fill, isRun) ?? [],
  );
  const lineLoadN = shareOverLines(lines, new Map(loads.map((load) => [load.piece, load.openingN])));
  const beyondMm = flange === null ? 0 : flange.widthMm - ground.thicknessMm;
  const fastened = beyondMm > 0 ? lines.map((line, n) => fasten(line, lineLoadN[n])) : [];

  const dryG = pieces.reduce((sum, piece) => sum + piece.dryMassG, 0);
  const holdingWeightN = ((dryG + ground.rubberG) / 1000) * FREE_FALL_M_PER_S2;
  const upward = plan.casting.attitude === 'as-built' ? 1 : -1;
  const liftN = loads.reduce((sum, load) => sum + upward * load.forceN[2], 0);
  const castG =
    ground.enclosedMm3 === null
      ? null
      : massOfCast({
          filledMm3:
            ground.enclosedMm3 * Math.min(1, Math.max(0, filledVolume(press, fill, openMm2) / wholeMm3)),
          enclosedMm3: ground.enclosedMm3,
          rubberMm3: ground.rubberMm3,
          wetMm2: sumOf(press, PRESS.wetMm2),
          wallMm: plan.casting.wallMm,
          densityGPerCm3: plan.casting.densityGPerCm3,
        });

  const has = {
    lines: lines.length > 0,
    flange: flange !== null,
    roomOnFlange: beyondMm > 0,
    gaps: ground.lines.some(({ isCut }) => isCut === true),
    roomForCast: ground.enclosedMm3 === null || ground.rubberMm3 < ground.enclosedMm3,
  };
  return {
    densityGPerCm3: plan.casting.densityGPerCm3,
    attitude: plan.casting.attitude,
    headMm: fill.headMm,
    maxPressurePa: fill.headMm * fill.paPerMm,
    closingForceN: loads.reduce((most, load) => Math.max(most, load.openingN), 0),
    pieces: loads,
    fasteners: fastened.reduce((sum, list) => sum + list.length, 0),
    fastenerSpacingMm: closestPairMm(fastened),
    fastenerPoints: fastened.flatMap((list, n) =>
      list.map(({ pointMm, loadN }) => ({ between: lines[n].between, pointMm, loadN })),
    ),
    upliftN: liftN - holdingWeightN,
    holdingWeightN,
    seam: findSeam(ground.lines, pressure.isOpenBelow ? pressure.lowestMm : null, fill),
    screening: screenAll(pressure),
    castG,
    filledMouldG: castG === null ? null : dryG + ground.rubberG + castG,
    says: sayCasting(plan, fill, has, 'metric'),
    usSays: sayCasting(plan, fill, has, 'us'),
  };

  function fasten(line: LineLoad, loadN: number): SpacedFastener[] {
    return spaceFasteners(line, loadN, plan.supplies.fastener);
  }

  function screenAll({ patches, extents }: MouldPressure): CastingResult['screening'] {
    const isFlanged = flange !== null && beyondMm > 0;
    return pieces.flatMap((piece, region) => {
      const screened: ScreenedPiece = {
        piece: piece.id,
        pressurePa: press[region * PRESS_WIDTH + PRESS.deepest] * fill.paPerMm,
        patch: patches[region],
        extents: extents[region],
        lineLoadNPerMm: lines.reduce(
          (most, line, n) =>
            line.between.includes(piece.id) ? Math.max(most, peakLoadNPerMm(line, lineLoadN[n])) : most,
          0,
        ),
      };
      const standing = isFlanged ? { beyondMm, thicknessMm: flange.thicknessMm } : null;
      return screenPiece(screened, ground.thicknessMm, standing, ground.strength);
    });
  }
}

function pieceLoad(
  { id, pull }: CastingPiece,
  region: number,
  press: Float64Array,
): CastingResult['pieces'][number] {
  const row = region * PRESS_WIDTH + PRESS.force;
  const forceN: Vec3 = [press[row], press[row + 1], press[row + 2]];
  return {
    piece: id,
    forceN,
    openingN: forceN[0] * pull[0] + forceN[1] * pull[1] + forceN[2] * pull[2],
    centreOfPressureMm: centreOfPressure(press, region) ?? [0, 0, 0],
  };
}

/** The highest load along a line, N for each millimetre: where the pressure is highest, or even where there is none. */
function peakLoadNPerMm(line: LineLoad, loadN: number): number {
  if (!(line.pressurePaMm > 0)) return loadN / line.lengthMm;
  let most = 0;
  for (const pressure of line.pressurePa) if (pressure > most) most = pressure;
  return (loadN * most) / line.pressurePaMm;
}

/** The shortest way along a line from one fastener to the next, mm; 0 without fasteners. */
function closestPairMm(fastened: readonly (readonly SpacedFastener[])[]): number {
  let least = Infinity;
  for (const list of fastened) {
    for (let n = 1; n < list.length; n++) least = Math.min(least, list[n].alongMm - list[n - 1].alongMm);
  }
  return Number.isFinite(least) ? least : 0;
}

function sumOf(press: Float64Array, column: number): number {
  let sum = 0;
  for (let row = column; row < press.length; row += PRESS_WIDTH) sum += press[row];
  return sum;
}
