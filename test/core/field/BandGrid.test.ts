import { expect, test } from 'vitest';
import { BandGrid, BRICK_CELLS, UNREACHED } from '../../../src/core/field/BandGrid.ts';

test.each([0, 3, 10.9, 400])(
  'room for %d bricks kept beforehand: every cell of every brick holds what it is given',
  (room) => {
    const grid = new BandGrid([0, 0, 0], 1, [64, 64, 64]);
    grid.reserve(room);
    for (let n = 0; n < 512; n++) {
      const cell = grid.cellMade(8 * (n & 7) + 7, 8 * ((n >> 3) & 7) + 7, 8 * (n >> 6) + 7);
      expect(cell).toBe(n * BRICK_CELLS + BRICK_CELLS - 1);
      expect(grid.phi[cell]).toBe(UNREACHED);
      expect(grid.tri[cell]).toBe(-1);
      grid.phi[cell] = n;
      grid.tri[cell] = n;
    }
    for (let n = 0; n < 512; n++) {
      const cell = grid.cellAt(8 * (n & 7) + 7, 8 * ((n >> 3) & 7) + 7, 8 * (n >> 6) + 7);
      expect([grid.phi[cell], grid.tri[cell]]).toEqual([n, n]);
    }
  },
);
