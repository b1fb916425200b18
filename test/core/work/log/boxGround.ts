import type { PieceGround, WorkGround } from '../../../../src/core/work/WorkGround.ts';
import { box } from '../../../fixtures/shapes.ts';
import { layerVolume, steinerOf } from '../../../published/convexSteiner.ts';

/** Box of 200 x 150 x 100 mm: area 130,000 mm2; with a layer of 10 mm all round 4,445,560.46 mm3 (Steiner's formula). */
export const BOX = steinerOf(box(200, 150, 100));

export const FLANGE = { lengthMm: 700, widthMm: 50, thicknessMm: 6 };

/** The whole box as a piece, its growth by Steiner's formula. */
export function boxPiece(id: string): PieceGround {
  return {
    id,
    name: `Piece ${id}`,
    areaMm2: BOX.areaMm2,
    shellMm3: (mm) => layerVolume(BOX, mm),
    areaAtMm2: (mm) => BOX.areaMm2 + 2 * BOX.meanMm * mm + BOX.gauss * mm ** 2,
    flange: { lengthMm: FLANGE.lengthMm },
    flangeMm3: (outerMm) => FLANGE.lengthMm * FLANGE.thicknessMm * Math.max(0, FLANGE.widthMm - outerMm),
  };
}

export function boxGround(ids: readonly string[], hasFlange = false): WorkGround {
  return {
    pieces: ids.map((id) => (hasFlange ? boxPiece(id) : { ...boxPiece(id), flangeMm3: () => 0 })),
    borders: [],
    rubberG: 0,
    fillerG: 0,
    fasteners: null,
    flangeWidthMm: hasFlange ? FLANGE.widthMm : 0,
    flangeThicknessMm: hasFlange ? FLANGE.thicknessMm : 0,
  };
}
