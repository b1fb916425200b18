import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thicknessOfVolume } from '../../../../src/core/work/log/thicknessOfVolume.ts';
import { BOX, boxPiece } from './boxGround.ts';

describe('thickness of a volume', () => {
  const piece = boxPiece('A');

  it('is 10 mm for the layer of 1,445,560.46 mm3 round the box of 200 x 150 x 100 mm (Steiner)', () => {
    expect(piece.shellMm3(10)).toBeCloseTo(4_445_560.46 - 3e6, 1);
    expect(thicknessOfVolume(piece, 4_445_560.46 - 3e6, 12)).toBeCloseTo(10, 7);
  });

  it('undoes the growth at every thickness up to the planned outside', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 20, noNaN: true }), (mm) => {
        expect(Math.abs(thicknessOfVolume(piece, piece.shellMm3(mm), 20) - mm)).toBeLessThan(1e-9);
      }),
      { seed: 41 },
    );
  });

  it('beyond the planned outside goes on at the area that the shell has there', () => {
    const areaMm2 = BOX.areaMm2 + 2 * BOX.meanMm * 10 + 4 * Math.PI * 100;
    expect(thicknessOfVolume(piece, piece.shellMm3(10) + 1000, 10)).toBeCloseTo(10 + 1000 / areaMm2, 9);
  });

  it('is nothing for nothing, and stays at the outside where there is no area to lay on', () => {
    expect(thicknessOfVolume(piece, 0, 10)).toBe(0);
    expect(thicknessOfVolume(piece, -5, 10)).toBe(0);
    expect(thicknessOfVolume({ shellMm3: () => 0, areaAtMm2: () => 0 }, 7, 10)).toBe(10);
  });
});
