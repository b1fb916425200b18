import { expect } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import type { PlanEdit } from '../../src/session/SessionStore.ts';

/** Applies actions one after another. None may change the plan that it was given, and each must leave one that can be opened again. */
export function runEdits(plan: PlanDocument, ...edits: readonly PlanEdit[]): PlanDocument {
  return edits.reduce((before, edit) => {
    const text = JSON.stringify(before);
    const next = edit(before);
    expect(JSON.stringify(before)).toBe(text);
    expect(parsePlan(JSON.parse(JSON.stringify(next)))).toEqual(next);
    return next;
  }, plan);
}
