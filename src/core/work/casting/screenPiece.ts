import type { Strength } from '../../material/MaterialSystem.ts';
import type { ScreeningResult } from '../../PlanResult.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatLength, formatLineLoad, formatPressure, type UnitSystem } from '../../units.ts';
import { arcRadiusMm } from './arcRadiusMm.ts';
import { FLATTISH_DEG, type FlatPatch } from './findFlatPatches.ts';
import { flangeUnderLoad } from './flangeUnderLoad.ts';
import { hoopStressMPa } from './hoopStressMPa.ts';
import type { PieceExtents } from './measureExtents.ts';
import { plateUnderPressure } from './plateUnderPressure.ts';

/** What one piece is screened from. */
export interface ScreenedPiece {
  readonly piece: string;
  /** The highest on the piece, Pa. */
  readonly pressurePa: number;
  readonly patch: FlatPatch | null;
  readonly extents: PieceExtents;
  /** The highest load along any of its lines, N for each millimetre; 0 where it has none. */
  readonly lineLoadNPerMm: number;
}

/** From this thickness on the span is no thin plate any more: a tenth of it, as textbooks have it, from memory. */
const THIN_PLATE_SHARE = 0.1;
/** Flatter than one in twenty a piece is no arc: the membrane formula would give a radius of nothing but noise. */
const LEAST_RISE_SHARE = 1 / 20;

/**
 * The stated formulas applied to one piece: flat panel with its edges free and held, membrane, flange. Comparisons between
 * options, not approvals: each says what was put in. Nothing for a piece that nothing presses on.
 *
 * @param flange what of it stands out beyond the shell, and its thickness on one side; null without one.
 */
export function screenPiece(
  screened: ScreenedPiece,
  thicknessMm: number,
  flange: { readonly beyondMm: number; readonly thicknessMm: number } | null,
  strength: Strength | null,
): ScreeningResult[] {
  const { piece, pressurePa, patch, extents } = screened;
  if (!(pressurePa > 0)) return [];
  const modulusGPa = strength?.modulusGPa ?? null;
  const out: ScreeningResult[] = [];
  if (patch !== null && patch.shortMm > 0 && patch.pressurePa > 0) {
    const plate = { ...patch, thicknessMm, modulusGPa };
    const from = (system: UnitSystem) => sayPatch(patch, thicknessMm, system);
    push(
      'flat-supported',
      (system) => `${from(system)}; edges free to turn`,
      plateUnderPressure('supported', plate),
    );
    push('flat-clamped', (system) => `${from(system)}; edges held`, plateUnderPressure('clamped', plate));
  }
  if (extents.alongMm >= LEAST_RISE_SHARE * extents.acrossMm && extents.acrossMm > 0) {
    const radiusMm = arcRadiusMm(extents.acrossMm, extents.alongMm);
    push(
      'membrane',
      (system) =>
        `arc of radius ${formatLength(radiusMm, system)} from the piece’s box (${formatLength(extents.acrossMm, system)} across its pull, ${formatLength(extents.alongMm, system)} along it), ${formatPressure(pressurePa, system)} at its lowest point; tension, held against a strength in bending`,
      { stressMPa: hoopStressMPa(pressurePa, radiusMm, thicknessMm), deflectionMm: null },
    );
  }
  if (flange !== null && screened.lineLoadNPerMm > 0) {
    const armMm = flange.beyondMm / 2;
    push(
      'flange',
      (system) =>
        `${formatLineLoad(screened.lineLoadNPerMm, system)} at its most loaded place, held ${formatLength(armMm, system)} from the shell (the middle of what stands out), flange ${formatLength(flange.thicknessMm, system)} thick`,
      flangeUnderLoad(screened.lineLoadNPerMm, armMm, flange.thicknessMm, modulusGPa),
    );
  }
  return out;

  function push(
    formula: ScreeningResult['formula'],
    from: (system: UnitSystem) => string,
    answer: { readonly stressMPa: number; readonly deflectionMm: number | null },
  ): void {
    const reserve = strength === null ? null : strength.flexuralMPa / answer.stressMPa;
    out.push({ piece, formula, ...sayBoth('from', from), ...answer, reserve });
  }
}

function sayPatch(patch: FlatPatch, thicknessMm: number, system: UnitSystem): string {
  const thick =
    thicknessMm > THIN_PLATE_SHARE * patch.shortMm
      ? '; thick for its span, the formula for thin plates is rough'
      : '';
  return `largest flattish patch (within ${FLATTISH_DEG}° of one direction), ${formatLength(patch.longMm, system)} × ${formatLength(patch.shortMm, system)}, as if flat, ${formatPressure(patch.pressurePa, system)} as at its lowest point${thick}`;
}
