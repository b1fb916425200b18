import { describe, expect, it } from 'vitest';
import { basisOf } from '../../../src/core/material/basisOf.ts';
import {
  BUILT_IN_MATERIALS,
  DEFAULT_FILLER,
  DEFAULT_MATERIAL,
  DEFAULT_RUBBER,
  findMaterial,
} from '../../../src/core/material/builtInMaterials.ts';
import { checkRecipe } from '../../../src/core/material/checkRecipe.ts';
import type { MaterialSystem } from '../../../src/core/material/MaterialSystem.ts';
import { sayBasis } from '../../../src/core/material/sayBasis.ts';
import { plainCoat } from '../../../src/core/plan/plainCoat.ts';
import { tradeGypsum } from '../../fixtures/tradeGypsum.ts';

/** Paths of all numbers below a value, parted by dots. */
function numberPaths(value: unknown, path: string): string[] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    numberPaths(inner, path === '' ? key : `${path}.${key}`),
  );
}

/** Paths of all numbers of a system, as its basis names them: components and additives by their names. */
function pathsOf({ components, additives, basis: _basis, ...rest }: MaterialSystem): string[] {
  return [
    ...[...components, ...additives].flatMap((item) => numberPaths(item, item.name)),
    ...numberPaths(rest, ''),
  ];
}

describe.each([...BUILT_IN_MATERIALS, tradeGypsum].map((system) => [system.id, system] as const))(
  '%s',
  (_id, system) => {
    it('says of every number where it comes from', () => {
      const paths = pathsOf(system);
      // Components, times, mixing, losses: fewer would mean that the walk missed them.
      expect(paths.length).toBeGreaterThan(10);
      const unsaid = paths.filter((path) => (basisOf(system, path)?.text.length ?? 0) === 0);
      expect(unsaid).toEqual([]);
    });

    it('has no basis for what is not there', () => {
      const items = [...system.components, ...system.additives].map((item) => [item.name, item] as const);
      const whole: Readonly<Record<string, unknown>> = { ...system, ...Object.fromEntries(items) };
      for (const path of Object.keys(system.basis)) {
        let value: unknown = whole;
        for (const key of path.split('.'))
          value = typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
        expect(value, path).not.toBeUndefined();
      }
    });

    it('its own typical doses lie within its own limits', () => {
      const coat = {
        ...plainCoat('Coat', system.reinforcement ? 'reinforced' : 'build', 2),
        additives: system.additives.map((one) => ({ name: one.name, doseShare: one.typicalShare })),
      };
      expect(checkRecipe(system, coat)).toEqual([]);
    });
  },
);

describe('built-in systems', () => {
  it('are found by id, each once', () => {
    for (const system of BUILT_IN_MATERIALS) expect(findMaterial(system.id)).toBe(system);
    expect(findMaterial('none-such')).toBeUndefined();
    expect(new Set(BUILT_IN_MATERIALS.map((system) => system.id)).size).toBe(BUILT_IN_MATERIALS.length);
  });
  it('serve a shell five ways, the rubber and the filler', () => {
    const count = (use: MaterialSystem['uses'][number]) =>
      BUILT_IN_MATERIALS.filter((system) => system.uses.includes(use)).length;
    expect([count('shell'), count('rubber'), count('filler')]).toEqual([5, 1, 1]);
    expect(DEFAULT_MATERIAL.uses).toContain('shell');
    expect(DEFAULT_RUBBER.uses).toContain('rubber');
    expect(DEFAULT_FILLER.uses).toContain('filler');
  });
  it('have no prices: those are the shop’s', () => {
    for (const { components, additives, reinforcement } of BUILT_IN_MATERIALS) {
      const packs = [...components, ...additives, ...(reinforcement ? [reinforcement] : [])].flatMap(
        (item) => item.packs,
      );
      expect(packs.filter((pack) => pack.price !== null)).toEqual([]);
    }
  });
  it('a thing that two systems share is the same thing in both', () => {
    const seen = new Map<string, number>();
    for (const { components, additives, reinforcement } of BUILT_IN_MATERIALS) {
      for (const item of [...components, ...additives, ...(reinforcement ? [reinforcement] : [])]) {
        expect(item.densityGPerCm3, item.name).toBe(seen.get(item.name) ?? item.densityGPerCm3);
        seen.set(item.name, item.densityGPerCm3);
      }
    }
  });
  it('dust, styrene, peroxide and the like are named where they are', () => {
    const hazards = (id: string) => findMaterial(id)?.hazards ?? [];
    expect(hazards('two-part-polymer-gypsum')).toEqual(
      expect.arrayContaining(['gypsum-dust', 'glass-fibre', 'setting-heat']),
    );
    expect(hazards('casting-plaster-burlap')).not.toContain('glass-fibre');
    expect(hazards('polyester-mat')).toEqual(expect.arrayContaining(['styrene', 'peroxide', 'glass-fibre']));
    expect(hazards('epoxy-laminate')).toContain('epoxy');
  });
});

describe('a basis', () => {
  it('speaks for what lies below it, and the nearer one first', () => {
    const system: MaterialSystem = {
      ...DEFAULT_MATERIAL,
      basis: {
        powder: { kind: 'published', text: 'sheet' },
        'powder.densityGPerCm3': { kind: 'yours', text: 'weighed' },
        'reinforcement.typicalShare': { kind: 'from-memory', text: 'six' },
      },
    };
    expect(basisOf(system, 'powder.parts')?.text).toBe('sheet');
    expect(basisOf(system, 'powder.densityGPerCm3')?.text).toBe('weighed');
    expect(basisOf(system, 'powder.packs.0.price')?.text).toBe('sheet');
    expect(basisOf(system, 'powdery')).toBeNull();
    expect(basisOf(system, 'liquid.parts')).toBeNull();
    expect(basisOf(system, 'chopped glass.typicalShare')?.text).toBe('six');
    expect(basisOf(system, 'lots.0.workingMin')?.kind).toBe('yours');
    expect(basisOf(system, 'constructor')).toBeNull();
  });
  it('is said in words', () => {
    expect(sayBasis({ kind: 'published', text: 'one table' })).toBe('published: one table');
    expect(sayBasis({ kind: 'common-practice', text: '6 %' })).toBe('common practice, no source: 6 %');
    expect(sayBasis({ kind: 'from-memory', text: '15 min' })).toBe('from memory: 15 min');
    expect(sayBasis({ kind: 'yours', text: 'weighed' })).toBe('yours: weighed');
    expect(sayBasis({ kind: 'common-practice', text: 'Common practice, no source: 6 %' })).toBe(
      'Common practice, no source: 6 %',
    );
  });
});
