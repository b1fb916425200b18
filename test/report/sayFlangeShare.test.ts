import { expect, it } from 'vitest';
import { computePlan } from '../../src/core/computePlan.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { formatMass } from '../../src/core/units.ts';
import { sayFlangeShare } from '../../src/report/sayFlangeShare.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

it('is the whole flange for the one coat that is reinforced, and nothing for the others', async () => {
  const plan = newPlan('dome.stl');
  const { pieces } = await computePlan(plan, openHalfSphere(40, 16), { resolution: 2, until: 'amounts' });
  expect(pieces).toHaveLength(2);
  for (const piece of pieces) {
    const flange = `${formatMass(piece.flange.massG, 'metric')} of it is for the flange`;
    const said = plan.coats.map((_, n) => sayFlangeShare(plan, piece, n, 'metric'));
    expect(said).toEqual(plan.coats.map(({ kind }) => (kind === 'reinforced' ? flange : '')));
    expect(piece.flange.massG).toBeGreaterThan(0);
  }
  const bare = { ...plan, parting: { ...plan.parting, flange: null } };
  const [piece] = await computePlan(bare, openHalfSphere(40, 16), { resolution: 2, until: 'amounts' }).then(
    (result) => result.pieces,
  );
  expect(plan.coats.map((_, n) => sayFlangeShare(bare, piece, n, 'metric')).join('')).toBe('');
});
