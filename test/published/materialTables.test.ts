import { describe, expect, it } from 'vitest';
import { DEFAULT_MATERIAL, DEFAULT_RUBBER, findMaterial } from '../../src/core/material/builtInMaterials.ts';
import type { MaterialSystem } from '../../src/core/material/MaterialSystem.ts';
import { type Mix, mixOf } from '../../src/core/material/mixOf.ts';
import { G_PER_POUND } from '../../src/core/units.ts';
import { plasterAt } from '../fixtures/plaster.ts';
import { tradeGypsum } from '../fixtures/tradeGypsum.ts';

/** 1 lb/ft3 in kg/m3: NIST HB 44 App. C. */
const KG_PER_M3_IN_LB_PER_FT3 = 16.018463;
const MM3_PER_CUBIC_INCH = 25.4 ** 3;
const PLAIN = { kind: 'build', additives: [], reinforcementShare: 0 } as const;

function plain(system: MaterialSystem): Mix {
  return mixOf(system, PLAIN);
}

function builtIn(id: string): MaterialSystem {
  const system = findMaterial(id);
  if (system === undefined) throw new Error(`no built-in system ${id}`);
  return system;
}

function dryKgPerM3(mix: Mix): number {
  return mix.densityGPerCm3 * mix.dryShare * 1000;
}

describe('gypsum plaster against published tables', () => {
  // Dry densities: a maker's printed table of gypsum cements by water to powder. The wet figures, the powder in a litre and
  // the model's own dry figures are worked by hand from (1 + w) / (w + 1/2.7) and (1 + 0.186) / (w + 1/2.7).
  const table = [
    { w: 0.38, wet: 1.839, dry: 1581, published: 1588, powder: 1.333 },
    { w: 0.45, wet: 1.767, dry: 1446, published: 1442, powder: 1.219 },
    { w: 0.65, wet: 1.617, dry: 1162, published: 1162, powder: 0.98 },
    { w: 0.7, wet: 1.588, dry: 1108, published: 1106, powder: 0.934 },
    { w: 0.74, wet: 1.567, dry: 1068, published: 1057, powder: 0.901 },
  ];
  for (const { w, wet, dry, published, powder } of table) {
    it(`${w * 100} parts of water: wet ${wet} g/cm3, dry within 1.2 % of the printed ${published} kg/m3`, () => {
      const mix = plain(plasterAt(w));
      expect(mix.densityGPerCm3).toBeCloseTo(wet, 3);
      // Printed to whole kg/m3, so half a kilogram is the table's rounding.
      expect(Math.abs(dryKgPerM3(mix) - dry)).toBeLessThan(0.51);
      // The largest deviation of the five is 1.1 %, at 74 parts.
      expect(Math.abs(dryKgPerM3(mix) / published - 1)).toBeLessThan(0.012);
      expect(mix.shares['plaster'] * mix.densityGPerCm3).toBeCloseTo(powder, 3);
    });
  }

  it('as it comes, 70 parts: 99 lb/ft3 wet and 69 dry, as the maker’s table prints', () => {
    const mix = plain(builtIn('casting-plaster-burlap'));
    const wet = (mix.densityGPerCm3 * 1000) / KG_PER_M3_IN_LB_PER_FT3;
    // By hand 99.15 and 69.18; the table prints whole pounds.
    expect(wet).toBeCloseTo(99.15, 2);
    // Bound water is kept as 0.186; one more figure of it (0.1862) would bring 69.172 to 69.18.
    expect(Math.abs(dryKgPerM3(mix) / KG_PER_M3_IN_LB_PER_FT3 - 69.18)).toBeLessThan(0.01);
    expect(Math.round(wet)).toBe(99);
    expect(Math.round(dryKgPerM3(mix) / KG_PER_M3_IN_LB_PER_FT3)).toBe(69);
  });

  it('fibrous plaster is 4 to 5 % lighter (St John and Kelly 1975, Cem. Concr. Res. 5:347-362): air', () => {
    const measured = [
      { w: 0.9, kgPerM3: 897 },
      { w: 0.6, kgPerM3: 1161 },
    ];
    for (const { w, kgPerM3 } of measured) {
      const over = dryKgPerM3(plain(plasterAt(w))) / kgPerM3 - 1;
      expect(over).toBeGreaterThan(0.035);
      expect(over).toBeLessThan(0.06);
      // With that much air in it the model comes to the measured density.
      const airy = { ...plasterAt(w), airShare: 0.045 };
      expect(Math.abs(dryKgPerM3(plain(airy)) / kgPerM3 - 1)).toBeLessThan(0.01);
    }
  });

  it('ten litres at 70 parts are 9.343 kg of plaster and 6.540 kg of water (by hand)', () => {
    const mix = plain(plasterAt(0.7));
    const massKg = 10 * mix.densityGPerCm3;
    expect(massKg * mix.shares['plaster']).toBeCloseTo(9.343, 3);
    expect(massKg * mix.shares['water']).toBeCloseTo(6.54, 3);
  });

  it('12 lb of powder and 4 lb of water make 3.830 L, 1.2064 m2 at 1/8 in (by hand)', () => {
    const litres = (16 * G_PER_POUND) / 1000 / plain(plasterAt(4 / 12)).densityGPerCm3;
    expect(litres).toBeCloseTo(3.83, 3);
    expect(litres / 3.175).toBeCloseTo(1.2064, 4);
  });

  it('water is 65.4 % of the volume at 70 parts and 64.4 % at 67, not “75 %” or “two thirds” (by hand)', () => {
    for (const [w, volumeShare] of [
      [0.7, 0.654],
      [0.67, 0.644],
    ]) {
      const mix = plain(plasterAt(w));
      expect(mix.shares['water'] * mix.densityGPerCm3).toBeCloseTo(volumeShare, 3);
    }
  });

  it('hemihydrate binds 18.6 g of water on 100 g (molar masses in NIOSH Pocket Guide 0518 and 0308)', () => {
    const bound = 172.2 / 145.2 - 1;
    expect(builtIn('casting-plaster-fibre').components[0].bindsWaterShare).toBeCloseTo(bound, 3);
    expect(DEFAULT_MATERIAL.components[0].bindsWaterShare).toBeCloseTo(bound, 3);
  });
});

describe('two-part gypsum', () => {
  it('is 1.845 g/cm3, by 3.5 / (1/1.03 + 2.5/2.7); 1.862 with 3 % of glass on it (by hand)', () => {
    expect(plain(DEFAULT_MATERIAL).densityGPerCm3).toBeCloseTo(3.5 / (1 / 1.03 + 2.5 / 2.7), 12);
    expect(plain(DEFAULT_MATERIAL).densityGPerCm3).toBeCloseTo(1.845, 3);
    // Worked with glass of 2.7 g/cm3; E-glass of 2.6 moves it by less than a thousandth part.
    const glass = mixOf(DEFAULT_MATERIAL, { ...PLAIN, reinforcementShare: 0.03 });
    expect(Math.abs(glass.densityGPerCm3 / 1.862 - 1)).toBeLessThan(1e-3);
  });

  it('0.60 m2 at 9.525 mm: 5.715 L, 10.545 kg; with 8 % lost 11.389 kg = 8.135 powder + 3.254 liquid (by hand)', () => {
    const mix = plain(DEFAULT_MATERIAL);
    const litres = 0.6 * 9.525;
    expect(litres).toBeCloseTo(5.715, 9);
    const onWallKg = litres * mix.densityGPerCm3;
    const mixedKg = onWallKg * (1 + DEFAULT_MATERIAL.lossShare);
    // The hand reckoning rounds the density to 1.845, 0.012 % low: a thousandth part covers it.
    expect(onWallKg / 10.545).toBeCloseTo(1, 3);
    expect(mixedKg / 11.389).toBeCloseTo(1, 3);
    expect((mixedKg * mix.shares['powder']) / 8.135).toBeCloseTo(1, 3);
    expect((mixedKg * mix.shares['liquid']) / 3.254).toBeCloseTo(1, 3);
    // 17.6 kg/m2 at 3/8 in (by hand).
    expect(mix.densityGPerCm3 * 9.525).toBeCloseTo(17.6, 1);
  });

  it('dry with 5 and 6 % of glass in the whole it lies at 103 to 112 lb/ft3 (trade specification citing ASTM C1355, C1381)', () => {
    // The liquid's water is fitted to one maker's 1704 kg/m3 at 5 to 6 %, so this guards the fit and the rule, not a forecast.
    for (const ofWhole of [0.05, 0.06]) {
      const mix = mixOf(DEFAULT_MATERIAL, { ...PLAIN, reinforcementShare: ofWhole / (1 - ofWhole) });
      expect(mix.reinforcementShare).toBeCloseTo(ofWhole, 12);
      expect(dryKgPerM3(mix)).toBeGreaterThan(103 * KG_PER_M3_IN_LB_PER_FT3);
      expect(dryKgPerM3(mix)).toBeLessThan(112 * KG_PER_M3_IN_LB_PER_FT3);
      expect(Math.abs(dryKgPerM3(mix) / 1704 - 1)).toBeLessThan(0.01);
    }
  });

  it('a dispersion of 50 % solids cut 1:4 with water has 10 % (by hand)', () => {
    const [powder, liquid] = DEFAULT_MATERIAL.components;
    const cut: MaterialSystem = {
      ...DEFAULT_MATERIAL,
      components: [
        { ...liquid, name: 'dispersion', parts: 1, waterShare: 0.5 },
        { ...powder, name: 'water', parts: 4, densityGPerCm3: 1, waterShare: 1, bindsWaterShare: 0 },
      ],
    };
    expect(plain(cut).dryShare).toBeCloseTo(0.1, 12);
  });

  it('5 % of fibre on 10 kg of slurry is 0.500 kg; 5 % of the whole is 0.526 kg (by hand)', () => {
    const fibreKg = (share: number): number => {
      const mix = mixOf(DEFAULT_MATERIAL, { ...PLAIN, reinforcementShare: share });
      return (10 * mix.shares['chopped glass']) / (1 - mix.shares['chopped glass']);
    };
    expect(fibreKg(0.05)).toBeCloseTo(0.5, 12);
    expect(fibreKg(0.05 / 0.95)).toBeCloseTo(0.526, 3);
  });

  it('100:50, and 200 g of liquid with 2 % take 4 g of thickener (common practice, no source)', () => {
    const mix = mixOf(tradeGypsum, { ...PLAIN, additives: [{ name: 'thickener', doseShare: 0.02 }] });
    const batchG = 200 / mix.shares['liquid'];
    expect(batchG * mix.shares['powder']).toBeCloseTo(400, 9);
    expect(batchG * mix.shares['thickener']).toBeCloseTo(4, 9);
    expect(batchG).toBeCloseTo(604, 9);
  });

  it('5 % accelerator on 200 g of liquid is 10 g of the solution, 0.769 g of its 40 g in 520 (common practice, no source)', () => {
    const mix = mixOf(tradeGypsum, { ...PLAIN, additives: [{ name: 'accelerator', doseShare: 0.05 }] });
    const solutionG = (200 / mix.shares['liquid']) * mix.shares['accelerator'];
    expect(solutionG).toBeCloseTo(10, 9);
    const { solution } = tradeGypsum.additives[1];
    if (solution === null) throw new Error('the accelerator is a solution');
    expect((solutionG * solution.activeG) / (solution.activeG + solution.waterG)).toBeCloseTo(0.769, 3);
  });
});

describe('laminates and rubber', () => {
  const polyester = builtIn('polyester-mat');
  const laminate = mixOf(polyester, { ...PLAIN, kind: 'reinforced', reinforcementShare: null });

  it('450 g/m2 of mat at 30 % of glass: 1.428 g/cm3, 1.50 kg/m2, 1.05 mm a layer (by hand, glass 2.56, resin 1.20)', () => {
    const arealGPerM2 = polyester.reinforcement?.arealGPerM2 ?? Number.NaN;
    expect(laminate.reinforcementShare).toBeCloseTo(0.3, 4);
    // The catalyst's 2 parts of 1.15 g/cm3 are lighter than the resin: 0.1 % below the hand reckoning without it.
    expect(Math.abs(laminate.densityGPerCm3 / 1.428 - 1)).toBeLessThan(2e-3);
    const arealKg = arealGPerM2 / 1000 / laminate.reinforcementShare;
    expect(arealKg).toBeCloseTo(1.5, 3);
    expect(arealKg / laminate.densityGPerCm3).toBeCloseTo(1.05, 2);
  });

  it('mat takes 2 to 2.5 times its mass of resin (three trade pages), cloth about its own (one)', () => {
    const resin = 1 - laminate.reinforcementShare;
    expect(resin / laminate.reinforcementShare).toBeGreaterThan(2);
    expect(resin / laminate.reinforcementShare).toBeLessThan(2.5);
    const cloth = mixOf(builtIn('epoxy-laminate'), {
      ...PLAIN,
      kind: 'reinforced',
      reinforcementShare: null,
    });
    expect((1 - cloth.reinforcementShare) / cloth.reinforcementShare).toBeCloseTo(1, 0);
  });

  it('2 % of catalyst on 10 kg of resin is 200 g, 174 ml and not 200 (by hand, 1.15 g/ml)', () => {
    const { shares } = plain(polyester);
    const catalystG = (10_000 * shares['catalyst']) / shares['polyester resin'];
    expect(catalystG).toBeCloseTo(200, 9);
    expect(catalystG / polyester.components[1].densityGPerCm3).toBeCloseTo(174, 0);
  });

  it('parts by volume are weighed by their density: 2:1 of epoxy is 2.3:1 by mass', () => {
    const { shares } = plain(builtIn('epoxy-laminate'));
    expect(shares['epoxy resin'] / shares['epoxy hardener']).toBeCloseTo(2.3, 12);
  });

  it('a pound of brushable rubber fills 23.7 cubic inches (a supplier’s figure)', () => {
    const pounds = (23.7 * MM3_PER_CUBIC_INCH * plain(DEFAULT_RUBBER).densityGPerCm3) / 1000 / G_PER_POUND;
    // The density is kept with three figures.
    expect(Math.abs(pounds - 1)).toBeLessThan(3e-3);
  });
});
