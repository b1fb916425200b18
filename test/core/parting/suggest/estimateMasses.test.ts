import { describe, expect, it } from 'vitest';
import { coatMix } from '../../../../src/core/material/coatMix.ts';
import { flangeDensity } from '../../../../src/core/material/flangeShares.ts';
import { chainSegments } from '../../../../src/core/parting/chainSegments.ts';
import { cutSurface } from '../../../../src/core/parting/cutSurface.ts';
import { joinAlongSurface } from '../../../../src/core/parting/joinAlongSurface.ts';
import { regionAreas } from '../../../../src/core/parting/regionAreas.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { estimateMasses } from '../../../../src/core/parting/suggest/estimateMasses.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import { octasphere } from '../../../fixtures/shapes.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

describe('estimateMasses', () => {
  // The shell of a sphere is 4 pi ((R + t)^3 - R^3) / 3; halves of it are equal. The faceted sphere lacks 0.4 % of the
  // area (n = 24: edge about pi R / 2 n, sagitta share (pi / 2 n)^2 / 6 or so), hence 1 %.
  it('gives each half of a sphere half of its shell and of its flange', () => {
    const radius = 60;
    const surface = new SurfaceContext(preparedFromMesh(octasphere(radius, 24), false));
    const ring = Array.from({ length: 12 }, (_, i): [number, number, number] => {
      const u = (i * Math.PI) / 6 + 0.05;
      return [radius * Math.cos(u), radius * Math.sin(u), 0];
    });
    const cut = cutSurface(surface, [joinAlongSurface(surface, ring, true)]);
    const chains = chainSegments(cut.segments);
    const plan = newPlan('sphere.stl');
    const masses = estimateMasses(surface, cut, chains, regionAreas(cut, []), plan);
    let coatsG = 0;
    let from = radius;
    for (const coat of plan.coats) {
      const to = from + coat.thicknessMm;
      const volumeMm3 = ((4 * Math.PI) / 3) * (to ** 3 - from ** 3);
      coatsG += (volumeMm3 / 1000) * coatMix(plan, coat).mix.densityGPerCm3;
      from = to;
    }
    const flange = plan.parting.flange;
    // The wall is a ring in the plane of the line.
    const flangeMm3 = flange
      ? Math.PI * ((radius + flange.widthMm) ** 2 - from ** 2) * flange.thicknessMm
      : 0;
    const eachG = coatsG / 2 + flangeDensity(plan).wetGPerMm3 * flangeMm3;
    expect(Math.abs(masses[0] / eachG - 1)).toBeLessThan(0.01);
    expect(Math.abs(masses[1] / eachG - 1)).toBeLessThan(0.01);
  });
});
