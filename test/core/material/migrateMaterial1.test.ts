import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { basisOf } from '../../../src/core/material/basisOf.ts';
import { DEFAULT_MATERIAL, DEFAULT_RUBBER } from '../../../src/core/material/builtInMaterials.ts';
import { MATERIAL_FORMAT } from '../../../src/core/material/checkMaterialFile.ts';
import { migrateMaterial1, rubberOfMaterial1 } from '../../../src/core/material/migrateMaterial1.ts';
import { mixOf } from '../../../src/core/material/mixOf.ts';
import { parseMaterial } from '../../../src/core/material/parseMaterial.ts';
import { plainCoat } from '../../../src/core/plan/plainCoat.ts';

/** The built-in system as plans of the first two versions hold it. */
const OLD_DEFAULT = {
  id: 'two-part-polymer-gypsum',
  name: 'Two-part polymer-modified gypsum with chopped glass',
  components: [
    { name: 'powder', partsByMass: 2.5, densityGPerCm3: 2.7 },
    { name: 'liquid', partsByMass: 1, densityGPerCm3: 1.03 },
  ],
  fibreShare: 0.06,
  fibreDensityGPerCm3: 2.6,
  airShare: 0,
  lossShare: 0.08,
  rubberDensityGPerCm3: 1.17,
  basis: { fibreShare: '6 % on the mix: common practice, no source' },
};

const OLD_OWN = {
  ...OLD_DEFAULT,
  id: 'our-plaster',
  name: 'Our plaster',
  components: [
    { name: 'no. 1 plaster', partsByMass: 100, densityGPerCm3: 2.65 },
    { name: 'mix', partsByMass: 60, densityGPerCm3: 1 },
  ],
  fibreShare: 0.15,
  airShare: 0.03,
  basis: { airShare: 'from memory', partsByMass: 'the bag', fibreShare: 'our sheet' },
};

describe('a system of the first format', () => {
  it('the built-in one becomes the built-in one of now', () => {
    expect(migrateMaterial1(OLD_DEFAULT)).toEqual(DEFAULT_MATERIAL);
    expect(rubberOfMaterial1(OLD_DEFAULT)).toBe(DEFAULT_RUBBER);
  });

  it('the built-in one with edits keeps them and their basis', () => {
    const [powder, liquid] = OLD_DEFAULT.components;
    const edited = {
      ...OLD_DEFAULT,
      components: [powder, { ...liquid, densityGPerCm3: 1.06 }],
      lossShare: 0.12,
      fibreShare: 0.01,
      basis: { 'liquid.densityGPerCm3': 'a weighed cup' },
    };
    const now = migrateMaterial1(edited);
    expect(now.components[1].densityGPerCm3).toBe(1.06);
    expect(basisOf(now, 'liquid.densityGPerCm3')).toEqual({ kind: 'yours', text: 'a weighed cup' });
    expect(now.lossShare).toBe(0.12);
    expect(basisOf(now, 'lossShare')?.kind).toBe('from-memory');
    expect(now.reinforcement).toMatchObject({ leastShare: 0.01, typicalShare: 0.01 });
    expect(now.components[0]).toEqual(DEFAULT_MATERIAL.components[0]);
    expect(basisOf(now, 'powder.parts')).toEqual(basisOf(DEFAULT_MATERIAL, 'powder.parts'));
    expect(now.additives).toEqual(DEFAULT_MATERIAL.additives);
  });

  it('one’s own weighs what it weighed, and the new file takes it', () => {
    const now = migrateMaterial1(OLD_OWN);
    // By hand: mixing rule with 3 % of air, plain and with 15 % of glass on it.
    const litre = 160 / (100 / 2.65 + 60 / 1);
    expect(mixOf(now, plainCoat('', 'build', 1)).densityGPerCm3).toBeCloseTo(litre * 0.97, 12);
    const glass = (1.15 / (1 / litre + 0.15 / 2.6)) * 0.97;
    expect(mixOf(now, plainCoat('', 'reinforced', 1)).densityGPerCm3).toBeCloseTo(glass, 12);
    expect(now.lossShare).toBe(0.08);
    // Names that paths of a basis could not hold are put right.
    expect(now.components.map((one) => one.name)).toEqual(['no  1 plaster', 'component 2']);
    expect(basisOf(now, 'component 2.parts')).toEqual({ kind: 'yours', text: 'the bag' });
    expect(basisOf(now, 'airShare')).toEqual({ kind: 'from-memory', text: 'from memory' });
    expect(basisOf(now, 'times.workingMin')?.text).toContain('not in the older file');
    expect(parseMaterial({ schema: MATERIAL_FORMAT, ...now })).toEqual(now);
  });

  it('without fibre it takes none', () => {
    const now = migrateMaterial1({ ...OLD_OWN, fibreShare: 0 });
    expect(now.reinforcement).toBeNull();
    expect(parseMaterial({ schema: MATERIAL_FORMAT, ...now })).toEqual(now);
  });

  it('its rubber keeps its density', () => {
    const rubber = rubberOfMaterial1({
      ...OLD_OWN,
      rubberDensityGPerCm3: 1.28,
      basis: { rubberDensityGPerCm3: 'weighed' },
    });
    expect(mixOf(rubber, plainCoat('', 'build', 1)).densityGPerCm3).toBeCloseTo(1.28, 12);
    expect(basisOf(rubber, 'rubber.densityGPerCm3')).toEqual({ kind: 'yours', text: 'weighed' });
    expect(parseMaterial({ schema: MATERIAL_FORMAT, ...rubber })).toEqual(rubber);
  });

  it('a file of it is read; a wrong one is refused by field', () => {
    expect(parseMaterial({ schema: 'scute-material/1', ...OLD_DEFAULT })).toEqual(DEFAULT_MATERIAL);
    const wrong: [unknown, RegExp][] = [
      [{ ...OLD_DEFAULT, fibreShare: 6 }, /“fibreShare” is 6/],
      [{ ...OLD_DEFAULT, fibre: 0.06 }, /“fibre” is no key/],
      [{ ...OLD_DEFAULT, components: [] }, /“components”/],
      ['gypsum', /not a table/],
    ];
    for (const [old, says] of wrong) {
      expect(() => migrateMaterial1(old)).toThrow(PlanError);
      expect(() => migrateMaterial1(old)).toThrow(says);
      expect(() => rubberOfMaterial1(old)).toThrow(says);
    }
  });
});
