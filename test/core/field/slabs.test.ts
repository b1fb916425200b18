import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { BRICK_CELLS, UNREACHED } from '../../../src/core/field/BandGrid.ts';
import { makeBandSource } from '../../../src/core/field/BandSource.ts';
import { buildBandField } from '../../../src/core/field/buildBandField.ts';
import { cutIntoSlabs } from '../../../src/core/field/slabs/cutIntoSlabs.ts';
import { makeField } from '../../../src/core/field/slabs/makeField.ts';
import { SINGLE_RUNNER } from '../../../src/core/field/slabs/SlabRunner.ts';
import { keepTris } from '../../../src/core/mesh/keepTris.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { octasphere, openHalfSphere, scaled, torus, turned } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from '../parting/preparedFromMesh.ts';

const ORDER = { cellMm: 2, bandMm: 8, knotMm: 1, knotCount: 9 };

const ball = octasphere(100, 24);
/** A ball with a hole of forty triangles. */
const isKept = Uint8Array.from({ length: ball.indices.length / 3 }, (_, t) => (t > 40 ? 1 : 0));
const holed = { positions: ball.positions, indices: keepTris(ball.indices, isKept) };

interface Body {
  readonly name: string;
  readonly mesh: TriMesh;
  readonly onBoard?: true;
  readonly isClosed: boolean;
  /** The axis along which it is cut. */
  readonly axis: 0 | 1 | 2;
}

const BODIES: readonly Body[] = [
  { name: 'a ring askew', mesh: turned(torus(90, 30, 60, 24), [1, 2, 0.5], 0.7), isClosed: true, axis: 1 },
  {
    name: 'a narrow ring upright',
    mesh: turned(scaled(torus(120, 35, 60, 24), [0.7, 1, 1]), [1, 0.1, 0], 1.4),
    isClosed: true,
    axis: 2,
  },
  {
    name: 'a tall vault that stands open on the board',
    mesh: scaled(openHalfSphere(90, 24), [1, 1, 2.6]),
    onBoard: true,
    isClosed: true,
    axis: 2,
  },
  { name: 'a ball with a hole', mesh: holed, isClosed: false, axis: 0 },
];

describe('a field in slabs', () => {
  it.each(BODIES)(
    'has the distances of the whole, cell by cell: $name',
    async ({ mesh, onBoard, isClosed, axis }) => {
      const source = makeBandSource(preparedFromMesh(mesh, onBoard === true));
      const order = { ...ORDER, isClosed };
      expect(cutIntoSlabs(source, order).map((slab) => slab.axis)).toEqual([axis, axis]);
      const whole = await buildBandField(source, order.cellMm, order.bandMm, isClosed, new Checkpoint());
      const { grid, tables } = await makeField(source, order, SINGLE_RUNNER, new Checkpoint());
      let cells = 0;
      let apart = 0;
      for (let cell = 0; cell < whole.brickCount * BRICK_CELLS; cell++) {
        if (whole.phi[cell] === UNREACHED) continue;
        cells++;
        const corner = 3 * Math.floor(cell / BRICK_CELLS);
        const { corners } = whole;
        const same = grid.cellAt(
          corners[corner] + (cell & 7),
          corners[corner + 1] + ((cell >> 3) & 7),
          corners[corner + 2] + ((cell >> 6) & 7),
        );
        if (grid.phi[same] !== whole.phi[cell]) apart++;
      }
      expect(cells).toBeGreaterThan(50_000);
      expect(apart).toBe(0);
      let reached = 0;
      for (const phi of grid.phi.subarray(0, grid.brickCount * BRICK_CELLS)) if (phi !== UNREACHED) reached++;
      expect(reached).toBe(cells);
      expect(tables.rows).toHaveLength(grid.brickCount * order.knotCount * 4);
    },
  );

  it('shares the work evenly, by area and not by length', () => {
    // A ball at one end of a long thin bar.
    const far = octasphere(100, 24);
    const bar = octasphere(20, 8);
    const positions = Float64Array.from([...far.positions, ...bar.positions]);
    for (let i = far.positions.length; i < positions.length; i += 3) positions[i] += 600;
    const indices = Uint32Array.from([
      ...far.indices,
      ...Array.from(bar.indices, (v) => v + far.positions.length / 3),
    ]);
    const source = makeBandSource(preparedFromMesh({ positions, indices }, false));
    const [first] = cutIntoSlabs(source, { ...ORDER, isClosed: true });
    // Half of the area lies about the middle of the ball, 110 mm from the grid's edge.
    expect(first.axis).toBe(0);
    expect(Math.abs(first.toBrick * 8 * ORDER.cellMm - 115)).toBeLessThan(2 * 8 * ORDER.cellMm);
  });

  it('a small field is one slab', () => {
    const source = makeBandSource(preparedFromMesh(octasphere(20, 8), false));
    expect(cutIntoSlabs(source, { ...ORDER, isClosed: true })).toHaveLength(1);
  });
});
