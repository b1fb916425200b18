import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { parsePlan } from '../../../src/core/plan/parsePlan.ts';

it('the demo’s plan is a plan, and the scan that it names lies beside it', () => {
  const place = new URL('../../../assets/demo/', import.meta.url);
  const plan = parsePlan(JSON.parse(readFileSync(new URL('fountain-fish.scute.json', place), 'utf8')));
  expect(plan.job.name).not.toBe('');
  expect(existsSync(new URL(plan.scan.file, place))).toBe(true);
});
