import { expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { BandGrid, BRICK, BRICK_CELLS } from '../../../src/core/field/BandGrid.ts';
import { marchTets, type NodeField } from '../../../src/core/shell/marchTets.ts';
import { expectValidMesh, volumeAlongX } from '../../expectValidMesh.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

const BRICKS = 3;
const CELL_MM = 0.5;

/** A field over a cube of cells, two layers within the border outside, from a function of the place i j k. */
function fieldOf(valueAt: (i: number, j: number, k: number) => number, outsideMm = 1): NodeField {
  const cells = BRICKS * BRICK;
  const grid = new BandGrid([10, -3, 7], CELL_MM, [cells, cells, cells]);
  for (let k = 0; k < cells; k += BRICK) {
    for (let j = 0; j < cells; j += BRICK) for (let i = 0; i < cells; i += BRICK) grid.cellMade(i, j, k);
  }
  const values = new Float32Array(grid.brickCount * BRICK_CELLS);
  for (let k = 0; k < cells; k++) {
    for (let j = 0; j < cells; j++) {
      for (let i = 0; i < cells; i++) {
        const isBorder = Math.min(i, j, k) < 2 || Math.max(i, j, k) > cells - 3;
        values[grid.cellAt(i, j, k)] = isBorder ? outsideMm : valueAt(i, j, k);
      }
    }
  }
  return { grid, values, beyond: () => outsideMm, hasLayerBelow: false };
}

it.each([1, 2, 3])(
  'noise, with zeros and jumps in it (seed %i): still closed, one fan a vertex, no flat face',
  async (seed) => {
    const random = seededRandom(seed);
    const noise = fieldOf(() => {
      const kind = random();
      return kind < 0.05 ? 0 : kind < 0.1 ? -1e9 : kind < 0.15 ? Infinity : random() - 0.5;
    });
    const mesh = await marchTets(noise, Infinity, new Checkpoint());
    if (!mesh) throw new Error('A march without a limit has an end.');
    expect(mesh.indices.length / 3).toBeGreaterThan(10_000);
    expectValidMesh(mesh);
    expect(volumeAlongX(mesh)).toBeGreaterThan(0);
  },
);

it('a slanted slab of a linear field: its volume and place exact to single precision', async () => {
  // Between two parallel planes whatever is linear is met exactly; sides are cut at the lattice, away from corners.
  const [nx, ny, nz] = [2 / 7, 3 / 7, 6 / 7];
  const signed = (i: number, j: number, k: number): number =>
    (nx * (i - 11.5) + ny * (j - 11.5) + nz * (k - 11.5)) * CELL_MM;
  const lower = await marchTets(
    fieldOf((i, j, k) => signed(i, j, k) - 0.7),
    Infinity,
    new Checkpoint(),
  );
  if (!lower) throw new Error('A march without a limit has an end.');
  expectValidMesh(lower);
  const { positions } = lower;
  let off = 0;
  let inner = 0;
  for (let v = 0; v < positions.length; v += 3) {
    const place = [positions[v] - 10, positions[v + 1] + 3, positions[v + 2] - 7].map(
      (x) => x / CELL_MM - 0.5,
    );
    // Three places from the border the slab's own plane alone makes the surface.
    if (Math.min(...place) < 3 || Math.max(...place) > BRICKS * BRICK - 4) continue;
    inner++;
    off = Math.max(off, Math.abs(signed(place[0], place[1], place[2]) - 0.7));
  }
  expect(inner).toBeGreaterThan(300);
  // Places within a hundredth of a cell of the plane count as that far from it, so that the plane shifts by as much.
  expect(off).toBeLessThanOrEqual(0.01 * CELL_MM * (1 + 1e-5));
});

it('a ball: volume within the bound of linear interpolation, 3/8 h^2 / r over its area', async () => {
  const radius = 4;
  const mesh = await marchTets(
    fieldOf((i, j, k) => CELL_MM * Math.hypot(i - 11.3, j - 11.6, k - 11.45) - radius),
    Infinity,
    new Checkpoint(),
  );
  if (!mesh) throw new Error('A march without a limit has an end.');
  expectValidMesh(mesh);
  const exact = (4 / 3) * Math.PI * radius ** 3;
  const volume = volumeAlongX(mesh);
  // A function of curvature k strays from its linear stand-in on a tetrahedron of circumradius R by at most k R^2 / 2, and
  // R = sqrt(3)/2 h here. It is convex, so that the ball comes out too small; the hundredth of a cell goes either way.
  const nudge = 0.01 * CELL_MM;
  const most = (3 / 8) * (CELL_MM ** 2 / (radius - CELL_MM)) + nudge;
  expect(volume).toBeLessThan(exact * (1 + (3 * nudge) / radius));
  expect(volume).toBeGreaterThan((4 / 3) * Math.PI * (radius - most) ** 3);
});

it('stops at the limit of triangles, and at a cancel', async () => {
  const ball = fieldOf((i, j, k) => Math.hypot(i - 11.5, j - 11.5, k - 11.5) - 8);
  expect(await marchTets(ball, 100, new Checkpoint())).toBeNull();
});
