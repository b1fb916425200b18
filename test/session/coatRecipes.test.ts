import { describe, expect, it } from 'vitest';
import { BUILT_IN_MATERIALS } from '../../src/core/material/builtInMaterials.ts';
import {
  addCoat,
  reinforcementOf,
  scaleCoatsTo,
  setCoatSystem,
  setCoatWait,
  setDose,
  setReinforcementShare,
  systemOfCoat,
  toggleAdditive,
  toggleReinforced,
  totalThicknessMm,
} from '../../src/session/coatActions.ts';
import { tradeGypsum, tradePlan } from '../fixtures/tradeGypsum.ts';
import { fakePlan } from './fakeAnswer.ts';
import { runEdits } from './runEdits.ts';

const plan = tradePlan(fakePlan());
const [thickener, accelerator] = tradeGypsum.additives;

describe('recipes of coats', () => {
  it('thickened and accelerated are the system’s usual doses; a second touch takes them out', () => {
    const fast = runEdits(plan, toggleAdditive(0, accelerator));
    expect(fast.coats[0].additives).toEqual([
      { name: 'thickener', doseShare: 0.02 },
      { name: 'accelerator', doseShare: 0.05 },
    ]);
    expect(runEdits(fast, toggleAdditive(0, thickener)).coats[0].additives).toEqual([
      { name: 'accelerator', doseShare: 0.05 },
    ]);
    expect(runEdits(fast, toggleAdditive(0, accelerator)).coats[0]).toEqual(plan.coats[0]);
  });

  it('a dose over the most is taken as typed, never clipped; what is no dose is left unheard', () => {
    expect(runEdits(plan, setDose(0, 'thickener', 0.04)).coats[0].additives[0].doseShare).toBe(0.04);
    expect(setDose(0, 'thickener', -0.01)(plan).coats).toEqual(plan.coats);
    expect(setDose(0, 'thickener', Number.NaN)(plan).coats).toEqual(plan.coats);
    expect(runEdits(plan, setDose(0, 'thickener', 0)).coats[0].additives).toEqual([]);
  });

  it('reinforced: the kind and the usual share; off again it is a build coat', () => {
    const on = runEdits(plan, toggleReinforced(1));
    expect(on.coats[1]).toMatchObject({ kind: 'reinforced', reinforcementShare: null });
    expect(reinforcementOf(on.coats[1], tradeGypsum)).toBe(0.06);
    expect(runEdits(on, toggleReinforced(1)).coats[1].kind).toBe('build');
    const some = runEdits(plan, setReinforcementShare(3, 0.02));
    expect(runEdits(some, toggleReinforced(3)).coats[3]).toEqual(plan.coats[3]);
    expect(reinforcementOf(plan.coats[2], { ...tradeGypsum, reinforcement: null })).toBe(0);
  });

  it('another system for one coat: its recipe starts afresh, and it is taken into the plan once', () => {
    const epoxy = BUILT_IN_MATERIALS.find((system) => system.id === 'epoxy-laminate')!;
    const mixed = runEdits(plan, setCoatSystem(0, epoxy), setCoatSystem(2, epoxy));
    expect(mixed.otherMaterials).toEqual([epoxy]);
    expect(systemOfCoat(mixed, mixed.coats[2])).toEqual(epoxy);
    expect(mixed.coats[2]).toMatchObject({ additives: [], reinforcementShare: null, waitMin: null });
    expect(systemOfCoat(mixed, mixed.coats[1])).toEqual(tradeGypsum);
    expect(setCoatSystem(0, null)(plan)).toBe(plan);
  });

  it('own waits, and back to the system’s', () => {
    const waited = runEdits(plan, setCoatWait(0, 75));
    expect(waited.coats[0].waitMin).toBe(75);
    expect(runEdits(waited, setCoatWait(0, null)).coats[0].waitMin).toBeNull();
    expect(setCoatWait(0, -1)(plan)).toBe(plan);
  });

  it('all coats to another total keep their shares', () => {
    const scaled = runEdits(plan, scaleCoatsTo(12));
    // Each coat is rounded to a thousandth of a millimetre, so the total is off by half of that a coat at most.
    expect(Math.abs(totalThicknessMm(scaled.coats) - 12)).toBeLessThanOrEqual(plan.coats.length * 0.0005);
    expect(scaled.coats[2].thicknessMm / scaled.coats[0].thicknessMm).toBeCloseTo(3.525 / 2, 2);
    expect(scaleCoatsTo(0)(plan).coats).toBe(plan.coats);
    expect(runEdits(plan, addCoat()).coats.at(-1)).toMatchObject({ systemId: null, additives: [] });
  });
});
