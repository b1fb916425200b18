import { expect, it } from 'vitest';
import type { Hazard, MaterialSystem } from '../../../src/core/material/MaterialSystem.ts';
import type { HandlingResult } from '../../../src/core/PlanResult.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';
import { CAUTION_STEPS, type Caution, listCautions } from '../../../src/core/work/cautions.ts';

const NOTHING = { casting: null, handling: [] };

/** The plan with its systems' hazards set: the shell's, and none in rubber and filler. */
function withHazards(plan: PlanDocument, hazards: readonly Hazard[]): PlanDocument {
  const of = (system: MaterialSystem, list: readonly Hazard[]): MaterialSystem => ({
    ...system,
    hazards: list,
  });
  return {
    ...plan,
    material: of(plan.material, hazards),
    rubber: of(plan.rubber, []),
    filler: of(plan.filler, []),
  };
}

const steps = (cautions: readonly Caution[]): string[] => cautions.map((caution) => caution.step);
const textOf = (cautions: readonly Caution[], step: string): string =>
  cautions
    .filter((caution) => caution.step === step)
    .map((caution) => caution.text)
    .join(' ');

const row = (
  what: string,
  piece: string | null,
  massKg: number,
  carry: HandlingResult['carry'],
): HandlingResult => ({
  what,
  piece,
  state: 'dry',
  massKg,
  centreOfMassMm: null,
  limitKg: 10,
  liftingIndex: massKg / 10,
  carry,
  advice: '',
  usAdvice: '',
});

it('names glass only where there is glass and a coat that takes it', () => {
  const plan = newPlan('a.stl');
  const glassy = withHazards(plan, ['glass-fibre']);
  expect(steps(listCautions(glassy, NOTHING))).toContain('Reinforced coat');
  expect(steps(listCautions(withHazards(plan, ['gypsum-dust']), NOTHING))).not.toContain('Reinforced coat');
  const plain = { ...glassy, coats: glassy.coats.filter((coat) => coat.kind !== 'reinforced') };
  expect(steps(listCautions(plain, NOTHING))).not.toContain('Reinforced coat');
  const stirredIn = { ...plain, coats: [{ ...plain.coats[0], reinforcementShare: 0.03 }] };
  expect(steps(listCautions(stirredIn, NOTHING))).toContain('Reinforced coat');
});

it('speaks of each hazard that a system has, wherever in the plan it is used, and of no other', () => {
  const plan = newPlan('a.stl');
  const bare = listCautions(withHazards(plan, []), NOTHING);
  for (const step of ['Mixing', 'Resin', 'Setting']) expect(steps(bare)).not.toContain(step);
  const word: Record<Hazard, [string, RegExp]> = {
    'gypsum-dust': ['Mixing', /5 mg\/m³ respirable/],
    'glass-fibre': ['Reinforced coat', /3 fibres\/cm³/],
    'setting-heat': ['Setting', /Never cast skin/],
    styrene: ['Resin', /100 ppm/],
    peroxide: ['Resin', /0\.2 ppm/],
    epoxy: ['Resin', /allergic for good/],
    isocyanate: ['Resin', /0\.005 ppm/],
  };
  for (const [hazard, [step, says]] of Object.entries(word) as [Hazard, [string, RegExp]][]) {
    const own = listCautions(withHazards(plan, [hazard]), NOTHING);
    expect(textOf(own, step)).toMatch(says);
    expect(textOf(bare, step)).not.toMatch(says);
    const base = withHazards(plan, []);
    const elsewhere = { ...base, rubber: { ...base.rubber, hazards: [hazard] } };
    // Of what the coats are mixed from a batch must speak; the rubber's own is no word for a bucket of gypsum.
    const isOfRubber = hazard === 'isocyanate';
    expect(textOf(listCautions(elsewhere, NOTHING), isOfRubber ? 'Rubber' : step)).toMatch(says);
    if (isOfRubber) expect(textOf(listCautions(elsewhere, NOTHING), step)).not.toMatch(says);
  }
});

it('keeps the heat of gypsum and that of resin apart', () => {
  const plan = newPlan('a.stl');
  const gypsum = textOf(listCautions(withHazards(plan, ['gypsum-dust', 'setting-heat']), NOTHING), 'Setting');
  expect(gypsum).toMatch(/60 °C/);
  expect(gypsum).not.toMatch(/Resin/);
  const resin = textOf(listCautions(withHazards(plan, ['styrene', 'setting-heat']), NOTHING), 'Setting');
  expect(resin).toMatch(/Resin left in the bucket/);
  expect(resin).not.toMatch(/60 °C/);
});

it('names of each piece the lightest lift that is too much for one, and none that is not', () => {
  const plan = newPlan('a.stl');
  expect(
    steps(listCautions(plan, { casting: null, handling: [row('Back, dry', 'B', 9, 'one')] })),
  ).not.toContain('Lifting');
  const text = textOf(
    listCautions(plan, {
      casting: null,
      handling: [
        row('Front, wet', 'A', 14.2, 'two'),
        row('Front, dry', 'A', 12.1, 'two'),
        row('Back, dry', 'B', 9, 'one'),
        row('Whole mould, filled', null, 80, 'hoist'),
      ],
    }),
    'Lifting',
  );
  expect(text).toContain('Two people for: Front, dry (12.10 kg).');
  expect(text).toContain('Whole mould, filled (80.00 kg)');
  expect(text).not.toContain('Front, wet');
  expect(text).not.toContain('Back');
  expect(text).toMatch(/does not cover one hand/);
});

it('says what the fill does only where there is one: burst, float, leak', () => {
  const plan = newPlan('a.stl');
  expect(steps(listCautions(plan, NOTHING))).not.toContain('Casting');
  const casting = {
    densityGPerCm3: 1.6,
    attitude: 'as-built' as const,
    headMm: 600,
    maxPressurePa: 9414,
    closingForceN: 1130,
    pieces: [],
    fasteners: 0,
    fastenerSpacingMm: 0,
    fastenerPoints: [],
    upliftN: -3,
    holdingWeightN: 100,
    seam: null,
    screening: [],
    castG: null,
    filledMouldG: null,
    says: [],
    usSays: [],
  };
  const held = textOf(listCautions(plan, { ...NOTHING, casting }), 'Casting');
  expect(held).toMatch(/9\.41\u00a0kPa.*1\.13\u00a0kN/);
  expect(held).not.toMatch(/off the board/);
  expect(held).not.toMatch(/leaks first/);
  const floating = textOf(
    listCautions(plan, {
      ...NOTHING,
      casting: { ...casting, upliftN: 196.133, seam: { pressurePa: 9414, pointMm: [0, 0, 0] } },
    }),
    'Casting',
  );
  // 196.133 N over 9.80665 m/s2.
  expect(floating).toMatch(/196\u00a0N more than it weighs, as 20\.00 kg would/);
  expect(floating).toMatch(/leaks first.*9\.41\u00a0kPa/);
});

it('stands in the order of the work, in steps of the closed list, and ends with who wins', () => {
  const all: Hazard[] = [
    'gypsum-dust',
    'glass-fibre',
    'setting-heat',
    'styrene',
    'peroxide',
    'epoxy',
    'isocyanate',
  ];
  const cautions = listCautions(withHazards(newPlan('a.stl'), all), {
    casting: null,
    handling: [row('Front, dry', 'A', 12, 'two')],
  });
  const places = cautions.map((caution) => CAUTION_STEPS.indexOf(caution.step));
  expect(places).toEqual([...places].sort((a, b) => a - b));
  expect(places.every((place) => place >= 0)).toBe(true);
  expect(cautions.at(-1)?.text).toMatch(/data sheet where they differ; they win/);
  for (const caution of cautions) expect(caution.text).not.toMatch(/!|\bsafe\b/);
});

it('says when the flange ends inside the shell, and only then', () => {
  const plan = newPlan('a.stl');
  const flanged = (widthMm: number): string[] =>
    steps(
      listCautions({ ...plan, parting: { ...plan.parting, flange: { widthMm, thicknessMm: 12 } } }, NOTHING),
    );
  expect(flanged(9.5)).toContain('Flange');
  expect(flanged(10)).not.toContain('Flange');
  expect(steps(listCautions({ ...plan, parting: { ...plan.parting, flange: null } }, NOTHING))).not.toContain(
    'Flange',
  );
});
