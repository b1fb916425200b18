import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import {
  BUILT_IN_MATERIALS,
  DEFAULT_MATERIAL,
  findMaterial,
} from '../../../src/core/material/builtInMaterials.ts';
import { coatMass, mixedMass, rubberMassG } from '../../../src/core/material/coatMass.ts';
import { coatDensityGPerCm3, mixDensityGPerCm3 } from '../../../src/core/material/mixDensity.ts';
import { parseMaterial } from '../../../src/core/material/parseMaterial.ts';
import type { MaterialSystem } from '../../../src/core/plan/PlanDocument.ts';
import { G_PER_POUND } from '../../../src/core/units.ts';

/** Gypsum plaster powder as a solid: 2.7 g/cm3 fits the maker's table below; water 1. */
function plaster(waterToPowder: number): MaterialSystem {
  return {
    ...DEFAULT_MATERIAL,
    id: 'plaster',
    components: [
      { name: 'powder', partsByMass: 1, densityGPerCm3: 2.7 },
      { name: 'water', partsByMass: waterToPowder, densityGPerCm3: 1 },
    ],
    fibreShare: 0,
    lossShare: 0,
  };
}

/** Volume, mm3, of a mass of the face coat's mix. */
function volumeOfMix(system: MaterialSystem, massG: number): number {
  return (massG / coatDensityGPerCm3(system, 'face')) * 1000;
}

describe('mixing rule against published figures', () => {
  it('plaster at 70 parts water weighs 99 lb/ft3 wet (a maker’s table of gypsum cements)', () => {
    const density = mixDensityGPerCm3(plaster(0.7).components);
    // 1 lb/ft3 = 0.016 018 46 g/cm3. The table prints whole pounds, so half a pound is its rounding.
    expect(Math.abs(density / 0.01601846 - 99)).toBeLessThan(0.5);
    expect(density).toBeCloseTo(1.588, 3);
  });

  it('ten litres of it are 9.343 kg powder and 6.540 kg water (worked by hand)', () => {
    const mass = coatMass(plaster(0.7), 'face', 10e6);
    expect(mass.componentsG['powder'] / 1000).toBeCloseTo(9.343, 3);
    expect(mass.componentsG['water'] / 1000).toBeCloseTo(6.54, 3);
  });

  it('12 lb powder and 4 lb water make 3.830 L, which cover 1.2064 m2 at 1/8 in (worked by hand)', () => {
    const volumeMm3 = volumeOfMix(plaster(4 / 12), 16 * G_PER_POUND);
    expect(volumeMm3 / 1e6).toBeCloseTo(3.83, 3);
    expect(volumeMm3 / 3.175 / 1e6).toBeCloseTo(1.2064, 4);
  });

  it('the two-part mix is 1.845 g/cm3, by 3.5 / (1/1.03 + 2.5/2.7)', () => {
    expect(coatDensityGPerCm3(DEFAULT_MATERIAL, 'face')).toBeCloseTo(3.5 / (1 / 1.03 + 2.5 / 2.7), 12);
    expect(coatDensityGPerCm3(DEFAULT_MATERIAL, 'face')).toBeCloseTo(1.845, 3);
  });

  it('with 3 % glass on the mix 1.862 g/cm3 (worked by hand with glass of 2.7 g/cm3)', () => {
    const glass = { ...DEFAULT_MATERIAL, fibreShare: 0.03, fibreDensityGPerCm3: 2.7 };
    expect(coatDensityGPerCm3(glass, 'reinforced')).toBeCloseTo(1.862, 3);
    // Lighter E-glass moves it by less than a thousandth part.
    const eGlass = { ...glass, fibreDensityGPerCm3: 2.6 };
    expect(Math.abs(coatDensityGPerCm3(eGlass, 'reinforced') / 1.862 - 1)).toBeLessThan(1e-3);
    // Only reinforced coats carry fibre.
    expect(coatDensityGPerCm3(glass, 'build')).toBeCloseTo(1.845, 3);
  });

  it('0.60 m2 at 9.525 mm: 5.715 L, 10.545 kg; mixed with 8 % loss 8.135 powder + 3.254 liquid (worked by hand)', () => {
    const volumeMm3 = 0.6e6 * 9.525;
    expect(volumeMm3 / 1e6).toBeCloseTo(5.715, 9);
    expect(coatMass(DEFAULT_MATERIAL, 'build', volumeMm3).massG / 1000).toBeCloseTo(10.545, 2);
    const mixed = mixedMass(DEFAULT_MATERIAL, 'build', volumeMm3);
    // The hand reckoning took the density rounded to 1.845, which is 0.012 % low.
    expect(mixed.massG / 1000 / 11.389).toBeCloseTo(1, 3);
    expect(mixed.componentsG['powder'] / 1000 / 8.135).toBeCloseTo(1, 3);
    expect(mixed.componentsG['liquid'] / 1000 / 3.254).toBeCloseTo(1, 3);
  });

  it('5 % fibre on 10 kg of slurry is 500 g; 5 % of the total is 526 g (worked by hand)', () => {
    const onMix = { ...DEFAULT_MATERIAL, fibreShare: 0.05 };
    const slurryPlusFibreG = 10_500;
    const volumeMm3 = (slurryPlusFibreG / coatDensityGPerCm3(onMix, 'reinforced')) * 1000;
    expect(coatMass(onMix, 'reinforced', volumeMm3).componentsG['fibre']).toBeCloseTo(500, 6);
    const ofTotal = { ...DEFAULT_MATERIAL, fibreShare: 0.05 / 0.95 };
    const totalG = 10_000 / 0.95;
    const sameMm3 = (totalG / coatDensityGPerCm3(ofTotal, 'reinforced')) * 1000;
    expect(coatMass(ofTotal, 'reinforced', sameMm3).componentsG['fibre']).toBeCloseTo(526.3, 1);
  });
});

describe('masses', () => {
  it('components sum to the mass, and masses to the sum of volumes', () => {
    for (const kind of ['face', 'build', 'reinforced', 'finish'] as const) {
      const one = coatMass(DEFAULT_MATERIAL, kind, 1.234e6);
      const sum = Object.values(one.componentsG).reduce((total, g) => total + g, 0);
      expect(sum / one.massG).toBeCloseTo(1, 12);
      expect(coatMass(DEFAULT_MATERIAL, kind, 2.468e6).massG / one.massG).toBeCloseTo(2, 12);
    }
  });
  it('air takes volume and has no mass', () => {
    const foamy = { ...DEFAULT_MATERIAL, airShare: 0.05 };
    const ratio =
      coatMass(foamy, 'reinforced', 1e6).massG / coatMass(DEFAULT_MATERIAL, 'reinforced', 1e6).massG;
    expect(ratio).toBeCloseTo(0.95, 12);
  });
  it('a pound of the rubber fills 23.7 cubic inches (a supplier’s figure)', () => {
    // 23.7 in3 x 16 387.064 mm3; the stored density has three figures.
    expect(rubberMassG(DEFAULT_MATERIAL, 23.7 * 16_387.064) / G_PER_POUND).toBeCloseTo(1, 2);
  });
});

describe('material files', () => {
  const file = { schema: 'scute-material/1', ...DEFAULT_MATERIAL };
  it('built-in ones are found by id and say where every value comes from', () => {
    expect(findMaterial('two-part-polymer-gypsum')).toBe(DEFAULT_MATERIAL);
    expect(findMaterial('none-such')).toBeUndefined();
    for (const system of BUILT_IN_MATERIALS) {
      const needed = [
        'partsByMass',
        ...system.components.map((component) => `${component.name}.densityGPerCm3`),
        'fibreShare',
        'fibreDensityGPerCm3',
        'airShare',
        'lossShare',
        'rubberDensityGPerCm3',
      ];
      for (const key of needed) expect(system.basis[key]?.length ?? 0, key).toBeGreaterThan(10);
    }
  });
  it('a file of one’s own is read; a wrong one is refused by field', () => {
    expect(parseMaterial(file)).toEqual(DEFAULT_MATERIAL);
    const wrong: [unknown, RegExp][] = [
      [null, /not a table/],
      [{ ...file, fibreShare: 6 }, /fibreShare/],
      [{ ...file, fibre: 0.06 }, /“fibre” is no key/],
      [{ ...file, components: [] }, /components/],
      [{ ...file, components: [...file.components, file.components[0]] }, /twice/],
      [{ ...file, id: 'No Such' }, /“id”/],
    ];
    for (const [json, sentence] of wrong) {
      let caught: unknown;
      try {
        parseMaterial(json);
      } catch (error) {
        caught = error;
      }
      expect(caught).toBeInstanceOf(PlanError);
      if (caught instanceof PlanError) {
        expect(caught.code).toBe('bad-material');
        expect(caught.message).toMatch(sentence);
      }
    }
  });
});
