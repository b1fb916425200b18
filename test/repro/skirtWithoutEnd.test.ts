import { expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { prepareScan } from '../../src/core/mesh/prepareScan.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';

/**
 * Where many faces meet by chance, the wall of a skirt met others on its edges and closed nothing: the same foot was asked for
 * and given a skirt again without end. Found by random tangles of faces.
 */
it('a foot is brought down to the board once', async () => {
  const random = seededRandom(1012);
  const vertCount = 6 + Math.floor(random() * 40);
  const triCount = 4 + Math.floor(random() * 150);
  // Numbers drawn for what this tangle does not have.
  random();
  const positions = Float64Array.from({ length: 3 * vertCount }, () => Math.floor(random() * 4) * 10);
  random();
  random();
  const indices = Uint32Array.from({ length: 3 * triCount }, () => Math.floor(random() * vertCount));
  const { scan } = newPlan('tangle.stl');
  const { report } = await prepareScan({ positions, indices }, scan, [], new Checkpoint(), 'mm');
  const skirts = report.warnings.filter(({ code }) => code === 'skirt-added');
  expect(skirts.length).toBe(1);
  expect(skirts[0].count).toBeLessThanOrEqual(triCount);
});
