import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_MATERIALS, DEFAULT_MATERIAL } from '../../../src/core/material/builtInMaterials.ts';
import type { MaterialSystem } from '../../../src/core/material/MaterialSystem.ts';
import { mixOf, type Recipe } from '../../../src/core/material/mixOf.ts';
import { withLot } from '../../fixtures/withLot.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });

/** Any recipe of any built-in system: all its additives at any dose, reinforcement at any share. */
const anyMix = fc.constantFrom(...BUILT_IN_MATERIALS).chain((built) =>
  fc.record({
    system: fc
      .record({ airShare: fc.double({ min: 0, max: 0.5, noNaN: true }) })
      .map((change): MaterialSystem => ({ ...built, ...change })),
    recipe: fc.record({
      kind: fc.constantFrom('face', 'build', 'reinforced', 'finish'),
      additives: fc
        .array(share, { minLength: built.additives.length, maxLength: built.additives.length })
        .map((doses) => built.additives.map(({ name }, i) => ({ name, doseShare: doses[i] }))),
      reinforcementShare: fc.option(share, { nil: null }),
    }) satisfies fc.Arbitrary<Recipe>,
  }),
);

/** Densities as added, by name. */
function densities({ components, additives, reinforcement }: MaterialSystem): Map<string, number> {
  const all = [...components, ...additives, ...(reinforcement ? [reinforcement] : [])];
  return new Map(all.map((item) => [item.name, item.densityGPerCm3]));
}

describe('any mix (seed 11)', () => {
  it('has shares that sum to 1, none below 0', () => {
    fc.assert(
      fc.property(anyMix, ({ system, recipe }) => {
        const { shares, reinforcementShare, dryShare } = mixOf(system, recipe);
        const all = Object.values(shares);
        expect(all.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 12);
        expect(Math.min(...all)).toBeGreaterThanOrEqual(0);
        expect(shares[system.reinforcement?.name ?? ''] ?? 0).toBeCloseTo(reinforcementShare, 12);
        expect(dryShare).toBeGreaterThan(0);
        expect(dryShare).toBeLessThanOrEqual(1);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('has the volume of its parts and its air together', () => {
    fc.assert(
      fc.property(anyMix, ({ system, recipe }) => {
        const { shares, densityGPerCm3 } = mixOf(system, recipe);
        const known = densities(system);
        let volumeOfAGram = 0;
        for (const [name, part] of Object.entries(shares))
          volumeOfAGram += part / (known.get(name) ?? Number.NaN);
        // Air is a share of the volume as laid up: 1/density = solid volume + air x 1/density.
        expect(1 / densityGPerCm3).toBeCloseTo(volumeOfAGram + system.airShare / densityGPerCm3, 10);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('keeps the doses: each additive on its base, reinforcement on all the rest', () => {
    fc.assert(
      fc.property(anyMix, ({ system, recipe }) => {
        const { shares } = mixOf(system, recipe);
        const componentShare = system.components.reduce((sum, one) => sum + shares[one.name], 0);
        for (const { name, doseShare } of recipe.additives) {
          const additive = system.additives.find((one) => one.name === name);
          const base = additive?.base === 'mix' ? componentShare : shares[additive?.base ?? ''];
          expect((shares[name] ?? 0) / base).toBeCloseTo(doseShare, 10);
        }
        if (system.reinforcement === null) return;
        const asked =
          recipe.reinforcementShare ?? (recipe.kind === 'reinforced' ? system.reinforcement.typicalShare : 0);
        const fibre = shares[system.reinforcement.name] ?? 0;
        expect(fibre / (1 - fibre)).toBeCloseTo(asked, 10);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});

describe('a lot’s weighed density', () => {
  const weighed = withLot(DEFAULT_MATERIAL, {
    lot: 'L7',
    densityGPerCm3: 1.79,
    workingMin: null,
    partialCureMin: null,
    fullCureMin: null,
  });
  const plain: Recipe = { kind: 'build', additives: [], reinforcementShare: 0 };
  it('is that of the mix without reinforcement', () => {
    expect(mixOf(weighed, plain).densityGPerCm3).toBeCloseTo(1.79, 12);
    expect(mixOf(weighed, plain).shares).toEqual(mixOf(DEFAULT_MATERIAL, plain).shares);
  });
  it('with glass on it the volumes of both add (by hand)', () => {
    const glass = mixOf(weighed, { ...plain, reinforcementShare: 0.06 });
    expect(glass.densityGPerCm3).toBeCloseTo(1.06 / (1 / 1.79 + 0.06 / 2.6), 12);
  });
});
