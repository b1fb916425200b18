import { describe, expect, it } from 'vitest';
import { BUILT_IN_MATERIALS } from '../../src/core/material/builtInMaterials.ts';
import type { MaterialSystem } from '../../src/core/material/MaterialSystem.ts';
import { mixOf } from '../../src/core/material/mixOf.ts';
import { setCoatSystem } from '../../src/session/coatActions.ts';
import {
  addAdditive,
  asOwnSystem,
  builtInSystems,
  changeSystem,
  densityOfCup,
  dropOtherSystem,
  idleSystems,
  moveEarlier,
  OWN_BASIS,
  readMaterialFile,
  removeAdditive,
  removeLot,
  renameSystem,
  type SystemChange,
  setAdditive,
  setComponent,
  setEffect,
  setLot,
  setMixing,
  setNumbers,
  setPacks,
  setPartsBy,
  setReinforcement,
  setShellRange,
  setStrength,
  setTimes,
  systemIn,
  takeSideSystem,
  takeSystem,
  useLot,
  whyRefused,
  writeMaterialFile,
} from '../../src/session/materialActions.ts';
import { basisOf, sayBasis } from '../../src/session/materialBasis.ts';
import { tradeGypsum, tradePlan } from '../fixtures/tradeGypsum.ts';
import { fakePlan } from './fakeAnswer.ts';
import { runEdits } from './runEdits.ts';

const plan = tradePlan(fakePlan());
const shell = (...changes: SystemChange[]): MaterialSystem =>
  runEdits(plan, ...changes.map((change) => changeSystem('shell', change))).material;
const builtIn = (id: string): MaterialSystem => {
  const found = BUILT_IN_MATERIALS.find((system) => system.id === id);
  if (!found) throw new Error(`No built-in system ${id}.`);
  return found;
};

describe('values of a system', () => {
  it('a changed value is the user’s own, and so is only that one', () => {
    const changed = shell(setComponent(0, { densityGPerCm3: 2.6 }));
    expect(changed.components[0].densityGPerCm3).toBe(2.6);
    expect(basisOf(changed, 'powder.densityGPerCm3')).toEqual(OWN_BASIS);
    expect(sayBasis(OWN_BASIS)).toMatch(/^yours: /);
    expect(basisOf(changed, 'powder.parts')).toEqual(basisOf(tradeGypsum, 'powder.parts'));
    expect(basisOf(changed, 'liquid.densityGPerCm3')).toEqual(basisOf(tradeGypsum, 'liquid.densityGPerCm3'));
  });

  it('a whole that is changed overrules what was said of its parts', () => {
    const before: MaterialSystem = {
      ...tradeGypsum,
      basis: { ...tradeGypsum.basis, 'accelerator.solution.waterG': { kind: 'published', text: 'a page' } },
    };
    const edit = changeSystem('shell', setAdditive(1, { solution: { activeG: 50, waterG: 480 } }));
    const after = runEdits({ ...plan, material: before }, edit).material;
    expect(basisOf(after, 'accelerator.solution.waterG')).toEqual(OWN_BASIS);
  });

  it('every kind of value can be set', () => {
    const changed = shell(
      setNumbers({ airShare: 0.03, lossPerBatchG: 40 }),
      setPartsBy('volume'),
      setTimes({ workingMin: 25, latestOvercoatMin: 240 }),
      setMixing({ mixMin: 4 }),
      setReinforcement({ typicalShare: 0.05 }),
      setShellRange({ usual: 10 }),
      setEffect(0, 'workingMin', [
        { doseShare: 0.025, minutes: 40 },
        { doseShare: 0, minutes: 30 },
      ]),
      setPacks({ of: 'component', index: 0 }, [
        { massG: 20_000, price: 30 },
        { massG: 5000, price: null },
      ]),
    );
    expect(changed).toMatchObject({
      airShare: 0.03,
      lossPerBatchG: 40,
      partsBy: 'volume',
      times: { workingMin: 25, latestOvercoatMin: 240, fullCureMin: 90 },
      mixing: { mixMin: 4 },
      reinforcement: { typicalShare: 0.05 },
      shellMm: { usual: 10 },
    });
    expect(changed.additives[0].effects.workingMin.map((point) => point.doseShare)).toEqual([0, 0.025]);
    expect(changed.components[0].packs.map((pack) => pack.massG)).toEqual([5000, 20_000]);
    for (const path of ['airShare', 'liquid.parts', 'times.workingMin', 'mixing.mixMin', 'powder.packs']) {
      expect(basisOf(changed, path), path).toEqual(OWN_BASIS);
    }
  });

  it('what cannot be is left unheard, and the reason names the value', () => {
    const cases: [SystemChange, RegExp][] = [
      [setComponent(0, { parts: 0 }), /parts/],
      [setComponent(0, { densityGPerCm3: Number.NaN }), /densityGPerCm3/],
      [setNumbers({ airShare: -0.1 }), /airShare/],
      [setAdditive(0, { leastShare: 0.03 }), /typicalShare/],
      [setAdditive(0, { base: 'sand' }), /sand/],
      [addAdditive('thickener'), /named twice/],
      [addAdditive('mix'), /mix/],
      [setTimes({ latestOvercoatMin: 10 }), /latestOvercoatMin/],
      [
        setEffect(0, 'workingMin', [
          { doseShare: 0.01, minutes: 30 },
          { doseShare: 0.01, minutes: 40 },
        ]),
        /two points of one dose/,
      ],
      [useLot('nobody weighed it'), /lotInUse/],
    ];
    for (const [change, names] of cases) {
      expect(whyRefused(plan, 'shell', change)).toMatch(names);
      expect(changeSystem('shell', change)(plan)).toBe(plan);
    }
    expect(whyRefused(plan, 'shell', setComponent(0, { parts: 90 }))).toBeNull();
    expect(changeSystem('shell', setStrength({ flexuralMPa: 3 }))(plan).material.strength).toBeNull();
  });

  it('an additive comes with its place in the order, and goes with its doses and its basis', () => {
    const added = runEdits(plan, changeSystem('shell', addAdditive('pigment')));
    expect(added.material.mixing.order.at(-1)).toBe('pigment');
    expect(moveEarlier('pigment')(added.material).mixing.order.at(-2)).toBe('pigment');
    expect(moveEarlier('liquid')(added.material)).toBe(added.material);
    const gone = runEdits(plan, removeAdditive('shell', 'thickener'));
    expect(gone.material.additives.map((additive) => additive.name)).toEqual(['accelerator']);
    expect(gone.coats.flatMap((coat) => coat.additives.map((dose) => dose.name))).toEqual(['accelerator']);
    expect(Object.keys(gone.material.basis).filter((path) => path.startsWith('thickener'))).toEqual([]);
  });
});

describe('lots and the weighed cup', () => {
  it('a lot’s density stands before the mixing rule, until it is no longer in use', () => {
    const weighed = densityOfCup({ emptyG: 20, fullG: 380, cupMl: 200 });
    if ('problem' in weighed) throw new Error(weighed.problem);
    expect(weighed.densityGPerCm3).toBeCloseTo(1.8, 12);
    const recipe = { kind: 'build', additives: [], reinforcementShare: null } as const;
    const measured = shell(setLot('L 7', { densityGPerCm3: weighed.densityGPerCm3 }));
    expect(mixOf(measured, recipe).densityGPerCm3).toBeCloseTo(1.8, 9);
    const set = useLot(null)(measured);
    expect(mixOf(set, recipe).densityGPerCm3).toBeCloseTo(mixOf(tradeGypsum, recipe).densityGPerCm3, 12);
  });

  it('further values of a lot join those it has; a lot in use that is forgotten is in use no more', () => {
    const both = shell(setLot('L 7', { densityGPerCm3: 1.8 }), setLot('L 7', { workingMin: 26 }));
    expect(both.lots).toEqual([
      { lot: 'L 7', densityGPerCm3: 1.8, workingMin: 26, partialCureMin: null, fullCureMin: null },
    ]);
    expect(both.lotInUse).toBe('L 7');
    expect(removeLot('L 7')(both)).toMatchObject({ lots: [], lotInUse: null });
  });

  it('says what is off in a weighing', () => {
    expect(densityOfCup({ emptyG: 380, fullG: 20, cupMl: 200 })).toHaveProperty('problem');
    expect(densityOfCup({ emptyG: 20, fullG: 380, waterG: 20 })).toHaveProperty('problem');
  });
});

describe('which system', () => {
  it('plaster and burlap in place of the gypsum: what it has no additive for goes out of the coats', () => {
    const plaster = builtIn('casting-plaster-burlap');
    const taken = runEdits(plan, takeSystem(plaster));
    expect(taken.material).toEqual(plaster);
    const names = new Set(plaster.additives.map((additive) => additive.name));
    for (const coat of taken.coats) {
      expect(coat.additives.every((dose) => names.has(dose.name))).toBe(true);
      expect(coat.reinforcementShare).toBeNull();
    }
    expect(taken.coats.map((coat) => coat.thicknessMm)).toEqual(plan.coats.map((coat) => coat.thicknessMm));
  });

  it('an additive of the same name stays, at the new system’s usual dose', () => {
    const other: MaterialSystem = {
      ...tradeGypsum,
      id: 'other',
      additives: [{ ...tradeGypsum.additives[0], typicalShare: 0.015 }],
      mixing: { ...tradeGypsum.mixing, order: ['liquid', 'thickener', 'powder'] },
      basis: { 'powder.parts': OWN_BASIS },
    };
    const taken = runEdits(plan, takeSystem(other));
    expect(taken.coats.map((coat) => coat.additives)).toEqual([
      [{ name: 'thickener', doseShare: 0.015 }],
      [{ name: 'thickener', doseShare: 0.015 }],
      [],
      [{ name: 'thickener', doseShare: 0.015 }],
    ]);
  });

  it('a coat of another system keeps it when the plan’s own changes; a system that no coat uses can go', () => {
    const epoxy = builtIn('epoxy-laminate');
    const mixed = runEdits(plan, setCoatSystem(0, epoxy), takeSystem(builtIn('casting-plaster-fibre')));
    expect(mixed.coats[0].systemId).toBe(epoxy.id);
    expect(systemIn(mixed, { otherId: epoxy.id })).toEqual(epoxy);
    expect(dropOtherSystem(epoxy.id)(mixed)).toBe(mixed);
    const back = runEdits(mixed, setCoatSystem(0, null));
    expect(idleSystems(back)).toEqual([epoxy]);
    expect(runEdits(back, dropOtherSystem(epoxy.id)).otherMaterials).toEqual([]);
    expect(() => systemIn(back, { otherId: 'nothing' })).toThrow(RangeError);
  });

  it('rubber and filler have systems of their own', () => {
    const rubber = builtInSystems('rubber')[0];
    expect(runEdits(plan, takeSideSystem('rubber', rubber)).rubber).toEqual(rubber);
    const air = changeSystem('filler', setNumbers({ airShare: 0.1 }));
    expect(runEdits(plan, air).filler.airShare).toBe(0.1);
    expect(builtInSystems('shell').length).toBeGreaterThanOrEqual(5);
  });

  it('kept as one’s own under a free id, and coats go on choosing it', () => {
    expect(asOwnSystem(tradeGypsum, 'Gips, Größe 2', []).id).toBe('gips-gro-e-2');
    expect(asOwnSystem(tradeGypsum, '***', ['own-system']).id).toBe('own-system-2');
    expect(asOwnSystem(tradeGypsum, 'x'.repeat(200), []).id.length).toBeLessThanOrEqual(64);
    expect(asOwnSystem(tradeGypsum, 'Epoxy laminate', []).id).toBe('epoxy-laminate-2');
    const epoxy = builtIn('epoxy-laminate');
    const own = asOwnSystem(epoxy, 'Our epoxy', []);
    const renamed = runEdits(plan, setCoatSystem(1, epoxy), renameSystem({ otherId: epoxy.id }, own));
    expect(renamed.coats[1].systemId).toBe(own.id);
    expect(renamed.otherMaterials).toEqual([own]);
  });

  it('a file that is saved opens as the same system; a malformed one says which field', () => {
    const { name, text } = writeMaterialFile(tradeGypsum);
    expect(name).toBe('trade-gypsum.scute-material.json');
    expect(readMaterialFile(text)).toEqual(tradeGypsum);
    const broken = text.replace('"parts": 100', '"parts": 0');
    expect(() => readMaterialFile(broken)).toThrow(/components.*parts/);
    expect(() => readMaterialFile('{')).toThrow(SyntaxError);
  });
});
