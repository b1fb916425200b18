import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { demoPlan } from '../../../assets/demo/demoPlan.ts';
import { parsePlan } from '../../../src/core/plan/parsePlan.ts';
import { serialisePlan } from '../../../src/core/plan/serialisePlan.ts';

const place = new URL('../../../assets/demo/', import.meta.url);
const text = readFileSync(new URL('fountain-fish.scute.json', place), 'utf8');

it('the demo’s plan is a plan, and the scan that it names lies beside it', () => {
  const plan = parsePlan(JSON.parse(text));
  expect(plan.job.name).not.toBe('');
  expect(existsSync(new URL(plan.scan.file, place))).toBe(true);
});

it('is what `npm run demo` makes, to the letter', () => {
  expect(text).toBe(serialisePlan(demoPlan()));
});
