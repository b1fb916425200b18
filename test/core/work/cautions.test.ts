import { expect, it } from 'vitest';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { listCautions } from '../../../src/core/work/cautions.ts';

const steps = (plan: ReturnType<typeof newPlan>, massesG: number[]): string[] =>
  listCautions(
    plan,
    massesG.map((massG, n) => ({ name: `piece ${n + 1}`, massG })),
  ).map((caution) => caution.step);

it('names glass only where there is glass, and lifting only above the filter, with the heavy pieces alone', () => {
  const plan = newPlan('a.stl');
  expect(steps(plan, [6999])).toContain('Reinforced coat');
  expect(steps({ ...plan, material: { ...plan.material, fibreShare: 0 } }, [6999])).not.toContain(
    'Reinforced coat',
  );
  expect(steps({ ...plan, coats: plan.coats.slice(0, 2) }, [6999])).not.toContain('Reinforced coat');
  expect(steps(plan, [6999])).not.toContain('Lifting');
  const lifting = listCautions(plan, [
    { name: 'front', massG: 7100 },
    { name: 'back', massG: 2000 },
  ]).find((caution) => caution.step === 'Lifting');
  expect(lifting?.text).toContain('front (7.1 kg)');
  expect(lifting?.text).not.toContain('back');
});

it('always ends with who wins where this and the data sheet differ', () => {
  expect(listCautions(newPlan('a.stl'), []).at(-1)?.text).toMatch(/data sheet where they differ; they win/);
});

it('says when the flange ends inside the shell, and only then', () => {
  const plan = newPlan('a.stl');
  const flanged = (widthMm: number): string[] =>
    steps({ ...plan, parting: { ...plan.parting, flange: { widthMm, thicknessMm: 12 } } }, []);
  expect(flanged(9.5)).toContain('Flange');
  expect(flanged(10)).not.toContain('Flange');
  expect(steps({ ...plan, parting: { ...plan.parting, flange: null } }, [])).not.toContain('Flange');
});
