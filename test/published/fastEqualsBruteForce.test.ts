import { expect, it } from 'vitest';
import { runPlan } from '../../src/core/computePlan.ts';
import { cubeCut } from '../../src/core/field/cubeCut.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newClosestPoint, SurfaceTree } from '../../src/core/spatial/SurfaceTree.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { TIE_SHARE } from '../tolerances.ts';

/** Random bumps on a sphere: fixed seed. */
function lumpy(seed: number): TriMesh {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 6 }, () => [
    random() - 0.5,
    random() - 0.5,
    random() - 0.5,
    6 * random(),
  ]);
  const mesh = octasphere(11, 8);
  const positions = mesh.positions.slice();
  for (let v = 0; v < positions.length; v += 3) {
    const [x, y, z] = mesh.positions.subarray(v, v + 3);
    let bump = 1;
    for (const [a, b, c, d] of waves) bump += 0.07 * Math.sin(0.5 * (a * x + b * y + c * z) + d);
    for (let k = 0; k < 3; k++) positions[v + k] *= bump;
  }
  return { positions, indices: mesh.indices };
}

/**
 * Bricks, wave, walk, tables and regions against a loop over every cell of the whole box, each in 3 x 3 x 3 parts with their
 * own nearest points by the bounding-volume tree and their sides by the winding number: two ways that share only the grid
 * and the cut of a cube by a plane.
 */
it.each([1, 2])('coats and pieces equal those of a loop over all cells, seed %i', async (seed) => {
  const coatsMm = [1.5, 2.5];
  const run = await runPlan(
    shapePlan({ coatsMm, scan: { board: 0 }, parting: { pieceCount: 2, pullAzimuthsDeg: [20] } }),
    lumpy(seed),
    { resolution: 1.25, until: 'amounts' },
  );
  const { grid } = run.field;
  const { cut } = run.parting;
  const tree = new SurfaceTree({ positions: cut.positions, indices: cut.indices });
  const hit = newClosestPoint();
  const PARTS = 3;
  const h = grid.cellMm;
  const edge = h / PARTS;
  const levels = [0, 1.5, 4];
  const whole = [0, 0, 0];
  const pieceMm3 = new Float64Array(cut.regionCount);
  const [nx, ny, nz] = grid.cells;
  for (let k = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      for (let i = 0; i < nx; i++) {
        const centre = [i, j, k].map((c, axis) => grid.origin[axis] + (c + 0.5) * h) as [
          number,
          number,
          number,
        ];
        tree.closestPoint(...centre, hit);
        const distance = hit.distance;
        if (distance > 4 + h) continue;
        const isInside = run.source.winding.windingNumber(...centre) > 0.5;
        if (isInside && distance > h) continue;
        for (let part = 0; part < PARTS ** 3; part++) {
          const off = [part % PARTS, Math.floor(part / PARTS) % PARTS, Math.floor(part / PARTS ** 2)];
          const at = centre.map((c, axis) => c + ((off[axis] + 0.5) / PARTS - 0.5) * h) as [
            number,
            number,
            number,
          ];
          tree.closestPoint(...at, hit);
          // Between two points on different sides lies S, which is no nearer to either than their distances say.
          const way = Math.hypot(...at.map((x, axis) => x - centre[axis]));
          const isWithin =
            distance + hit.distance > way ? isInside : run.source.winding.windingNumber(...at) > 0.5;
          const side = isWithin ? -1 : 1;
          const phi = side * hit.distance;
          const g = at.map((x, axis) => (x - hit.point[axis]) / phi);
          const shares = levels.map((level) => cubeCut(g[0], g[1], g[2], (level - phi) / edge));
          levels.forEach((_, n) => {
            whole[n] += shares[n] * edge ** 3;
          });
          pieceMm3[cut.cutTriRegion[hit.tri]] += (shares[2] - shares[0]) * edge ** 3;
        }
      }
    }
  }
  const exact = [whole[1] - whole[0], whole[2] - whole[1]];
  exact.forEach((volume, n) => {
    const fast = run.result.pieces.reduce((sum, piece) => sum + piece.coats[n].volumeMm3, 0);
    // Facets of 2 mm bend over edges that cells of 1.25 mm do not resolve: parts in ten thousand.
    expect(Math.abs(fast / volume - 1), `coat ${n}: ${fast} for ${volume}`).toBeLessThan(6e-4 + TIE_SHARE);
    const stated = run.result.pieces.reduce((sum, piece) => sum + piece.coats[n].volumeErrorMm3, 0);
    expect(Math.abs(fast - volume)).toBeLessThan(stated);
  });
  run.result.pieces.forEach((piece, region) => {
    const off = Math.abs(piece.volumeMm3 - pieceMm3[region]);
    // Parts of a third of a cell are counted whole: chance of h / 6 over the parting face, averaged over its cells.
    const faceMm2 = run.parting.chains.reduce((sum, chain) => sum + chain.lengthMm * 4, 0);
    const chance = (h / PARTS / 2) * faceMm2 * (1 / Math.sqrt(faceMm2 / (h / PARTS) ** 2)) * 4;
    expect(off, `piece ${region}`).toBeLessThan(piece.volumeErrorMm3 + chance);
  });
});
