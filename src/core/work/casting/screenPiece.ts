import type { Strength } from '../../material/MaterialSystem.ts';
import type { ScreeningResult } from '../../PlanResult.ts';
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
    const from = sayPatch(patch, thicknessMm);
    push('flat-supported', `${from}; edges free to turn`, plateUnderPressure('supported', plate));
    push('flat-clamped', `${from}; edges held`, plateUnderPressure('clamped', plate));
  }
  if (extents.alongMm >= LEAST_RISE_SHARE * extents.acrossMm && extents.acrossMm > 0) {
    const radiusMm = arcRadiusMm(extents.acrossMm, extents.alongMm);
    push(
      'membrane',
      `arc of radius ${radiusMm.toFixed(0)} mm from the piece’s box (${extents.acrossMm.toFixed(0)} mm across its pull, ${extents.alongMm.toFixed(0)} mm along it), ${kPa(pressurePa)} at its lowest point; tension, held against a strength in bending`,
      { stressMPa: hoopStressMPa(pressurePa, radiusMm, thicknessMm), deflectionMm: null },
    );
  }
  if (flange !== null && screened.lineLoadNPerMm > 0) {
    const armMm = flange.beyondMm / 2;
    push(
      'flange',
      `${screened.lineLoadNPerMm.toFixed(2)} N/mm at its most loaded place, held ${armMm.toFixed(0)} mm from the shell (the middle of what stands out), flange ${flange.thicknessMm} mm thick`,
      flangeUnderLoad(screened.lineLoadNPerMm, armMm, flange.thicknessMm, modulusGPa),
    );
  }
  return out;

  function push(
    formula: ScreeningResult['formula'],
    from: string,
    answer: { readonly stressMPa: number; readonly deflectionMm: number | null },
  ): void {
    const reserve = strength === null ? null : strength.flexuralMPa / answer.stressMPa;
    out.push({ piece, formula, from, ...answer, reserve });
  }
}

function sayPatch(patch: FlatPatch, thicknessMm: number): string {
  const thick =
    thicknessMm > THIN_PLATE_SHARE * patch.shortMm
      ? '; thick for its span, the formula for thin plates is rough'
      : '';
  return `largest flattish patch (within ${FLATTISH_DEG}° of one direction), ${patch.longMm.toFixed(0)} × ${patch.shortMm.toFixed(0)} mm, as if flat, ${kPa(patch.pressurePa)} as at its lowest point${thick}`;
}

function kPa(pressurePa: number): string {
  return `${(pressurePa / 1000).toFixed(2)} kPa`;
}
