import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { distanceFromScan } from '../../../src/core/maps/distanceFromScan.ts';
import { IDENTITY } from '../../../src/core/mesh/affine.ts';
import { box, moved, octasphere, scaled } from '../../fixtures/shapes.ts';

const measure = (
  ...[body, scan, map]: Parameters<typeof distanceFromScan> extends [infer B, infer S, infer M, unknown]
    ? [B, S, M]
    : never
) => distanceFromScan(body, scan, map, new Checkpoint());

describe('distanceFromScan', () => {
  it('is nought where the body is the scan, also through a change of unit', async () => {
    const body = octasphere(40, 8);
    const inMetres = scaled(body, [1e-3, 1e-3, 1e-3]);
    const map = [1000, 0, 0, 0, 0, 1000, 0, 0, 0, 0, 1000, 0];
    expect(Math.max(...(await measure(body, inMetres, map)).map(Math.abs))).toBe(0);
  });

  it('a plate moved up by 2 mm stands 2 mm beyond the scan above, 2 mm within it below', async () => {
    const scan = box(100, 80, 10);
    const body = moved(scan, [0, 0, 2]);
    const distance = await measure(body, scan, IDENTITY);
    for (let v = 0; v < distance.length; v++) {
      const isTop = body.positions[3 * v + 2] > 10;
      // The foot's corners lie 2 mm up the scan's walls, on them: their distance is nought.
      expect(distance[v]).toBeCloseTo(isTop ? 2 : 0, 6);
    }
  });

  it("a sphere of 41 about one of 40: 1 mm and at most the facets' sagitta more; inward negative; turned faces do no harm", async () => {
    const scan = octasphere(40, 32);
    const turned = { ...scan, indices: Uint32Array.from(scan.indices).reverse() };
    // An octahedron's face cut in 32 and thrown out to the sphere: sides of sqrt 6 / 32 rad at most, a facet's circle 1 / sqrt 3
    // of that, its sagitta 40 (1 - cos 0.0442) = 0.039 mm. Own arithmetic.
    for (const mesh of [scan, turned]) {
      for (const value of await measure(octasphere(41, 20), mesh, IDENTITY)) {
        expect(value).toBeGreaterThan(1 - 1e-6);
        expect(value).toBeLessThan(1.04);
      }
      for (const value of await measure(octasphere(39, 20), mesh, IDENTITY)) {
        expect(value).toBeLessThan(-0.96);
        expect(value).toBeGreaterThan(-1 - 1e-6);
      }
    }
  });
});
