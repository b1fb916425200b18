import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { makeBandSource } from '../../../src/core/field/BandSource.ts';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { brushRubber } from '../../../src/core/parting/brushRubber.ts';
import { planParting } from '../../../src/core/parting/planParting.ts';
import { regionAreas } from '../../../src/core/parting/regionAreas.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { octasphere } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

describe('brushRubber', () => {
  // The offset of a sphere is a sphere; a line below its equator keeps its angle. Chords of the mesh: under 0.2 %.
  it('lays a sphere over a sphere, parted at the same angle', async () => {
    const radiusMm = 50;
    const rubberMm = 10;
    const below = (20 * Math.PI) / 180;
    const volumeMm3 = (4 / 3) * Math.PI * radiusMm ** 3;
    const scan = { ...preparedFromMesh(octasphere(radiusMm, 24), false), volumeMm3 };
    const points = Array.from({ length: 8 }, (_, i): Vec3 => {
      const ring = radiusMm * Math.cos(below);
      return [
        ring * Math.cos((i * Math.PI) / 4),
        ring * Math.sin((i * Math.PI) / 4),
        -radiusMm * Math.sin(below),
      ];
    });
    const { parting: plan } = newPlan('sphere.stl');
    const { cut, chains } = await planParting(
      new SurfaceContext(scan),
      { ...plan, lines: [{ id: 'round', points, closed: true }] },
      new Checkpoint(),
    );
    const brushed = await brushRubber(
      scan,
      makeBandSource(scan),
      cut,
      chains,
      4 * Math.PI * radiusMm ** 2,
      rubberMm,
      new Checkpoint(),
    );
    const { positions } = brushed.cut;
    for (let i = 0; i < positions.length; i += 3) {
      const r = Math.hypot(positions[i], positions[i + 1], positions[i + 2]);
      expect(Math.abs(r - 60)).toBeLessThan(0.12);
    }
    const [upper, lower] = [...regionAreas(brushed.cut, [])].sort((a, b) => b - a);
    const zone = regionAreas(cut, []);
    const share = Math.max(...zone) / (zone[0] + zone[1]);
    expect(Math.abs(upper / (upper + lower) - share)).toBeLessThan(0.005);
    expect(Math.abs((upper + lower) / (4 * Math.PI * 3600) - 1)).toBeLessThan(0.005);
    expect(brushed.chains[0].lengthMm / chains[0].lengthMm).toBeCloseTo(1.2, 1);
    expect(brushed.surface.scan.twins.every((twin) => twin >= 0)).toBe(true);
    // Over each corner of the pattern lies a triangle of the rubber in the same direction.
    for (let h = 0; h < cut.indices.length; h += 97) {
      const tri = brushed.overCorner[h];
      const v = 3 * brushed.cut.indices[3 * tri];
      const w = 3 * cut.indices[h];
      const cos =
        (positions[v] * cut.positions[w] +
          positions[v + 1] * cut.positions[w + 1] +
          positions[v + 2] * cut.positions[w + 2]) /
        (60 * radiusMm);
      expect(cos).toBeGreaterThan(0.99);
    }
  });
});
