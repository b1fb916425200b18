import { expect, it } from 'vitest';
import { BandGrid, BRICK_CELLS, UNREACHED } from '../../../src/core/field/BandGrid.ts';
import { CellBend } from '../../../src/core/field/CellBend.ts';

/** A grid of 2 x 2 x 2 bricks of 0.5 mm cells that holds a function of the place, mm. */
function gridOf(phi: (x: number, y: number, z: number) => number): BandGrid {
  const grid = new BandGrid([0, 0, 0], 0.5, [16, 16, 16]);
  for (let k = 0; k < 16; k++)
    for (let j = 0; j < 16; j++)
      for (let i = 0; i < 16; i++) {
        grid.phi[grid.cellMade(i, j, k)] = phi(0.5 * (i + 0.5), 0.5 * (j + 0.5), 0.5 * (k + 0.5));
      }
  return grid;
}

it('tells the Laplacian of a quadratic in every cell, over the borders of bricks and at the grid’s edge too', () => {
  // Laplacian 2 a + 2 b + 2 c = 0.24; one-sided differences with the gradient are exact for a quadratic as well.
  const [a, b, c] = [0.05, -0.03, 0.1];
  const grid = gridOf((x, y, z) => a * x * x + b * y * y + c * z * z + 0.2 * x);
  const bend = new CellBend(grid);
  for (let cell = 0; cell < grid.brickCount * BRICK_CELLS; cell++) {
    const brick = Math.floor(cell / BRICK_CELLS);
    const local = cell % BRICK_CELLS;
    const [i, j, k] = [local & 7, (local >> 3) & 7, local >> 6].map(
      (n, axis) => grid.corners[3 * brick + axis] + n,
    );
    const [x, y, z] = [i, j, k].map((n) => 0.5 * (n + 0.5));
    const gradient = [2 * a * x + 0.2, 2 * b * y, 2 * c * z] as const;
    const isWhole = bend.take(brick, local);
    expect(isWhole).toBe([i, j, k].every((n) => n > 0 && n < 15));
    if (!isWhole) bend.takeOpen(brick, local, grid.phi[cell], ...gradient);
    expect(bend.gx).toBeCloseTo(gradient[0], 5);
    expect(bend.gy).toBeCloseTo(gradient[1], 5);
    expect(bend.gz).toBeCloseTo(gradient[2], 5);
    expect(bend.sumMm).toBeCloseTo(0.25 * 0.24, 5);
    expect(bend.mostMm).toBeCloseTo(0.25 * 0.2, 5);
  }
});

it('takes an axis with no cell to either side for straight', () => {
  const grid = gridOf((x) => x);
  grid.phi[grid.cellAt(4, 4, 3)] = UNREACHED;
  grid.phi[grid.cellAt(4, 4, 5)] = UNREACHED;
  const cell = grid.cellAt(4, 4, 4);
  const bend = new CellBend(grid);
  const place = [Math.floor(cell / BRICK_CELLS), cell % BRICK_CELLS] as const;
  expect(bend.take(...place)).toBe(false);
  bend.takeOpen(...place, 2.25, 1, 0, 0.7);
  expect(bend.sumMm).toBeCloseTo(0, 6);
});
