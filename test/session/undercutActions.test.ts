import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { deepestLock } from '../../src/session/deepestLock.ts';
import { resizePlan } from '../../src/session/resizePlan.ts';
import { type PlanEdit, SessionStore } from '../../src/session/SessionStore.ts';
import {
  addNotHere,
  changeNotHere,
  emptySpot,
  FIRST_AVOID_RADIUS_MM,
  fillAllSpots,
  fillSpot,
  removeNotHere,
  setRubberGive,
  takeFillerBack,
  takeSuggestion,
} from '../../src/session/undercutActions.ts';
import { madeUpResult, madeUpUndercut } from '../report/madeUpResult.ts';
import { fakePlan } from './fakeAnswer.ts';

/** Applies actions one after another; each result must still be a plan that can be written and opened again. */
function run(...edits: PlanEdit[]): PlanDocument {
  let plan = fakePlan();
  for (const edit of edits) {
    const before = JSON.stringify(plan);
    const next = edit(plan);
    expect(JSON.stringify(plan)).toBe(before);
    expect(parsePlan(JSON.parse(JSON.stringify(next)))).toEqual(next);
    plan = next;
  }
  return plan;
}

const left: Vec3 = [-10, 0, 5];
const right: Vec3 = [10, 0, 5];

describe('actions on undercuts', () => {
  it('takes how far the rubber yields, nothing included, and no less', () => {
    expect(run(setRubberGive(2.5)).parting.rubberGiveMm).toBe(2.5);
    expect(run(setRubberGive(0)).parting.rubberGiveMm).toBe(0);
    expect(run(setRubberGive(2.5), setRubberGive(-1)).parting.rubberGiveMm).toBe(2.5);
    expect(run(setRubberGive(2.5), setRubberGive(Number.NaN)).parting.rubberGiveMm).toBe(2.5);
  });

  it('marks, renames, sizes and removes areas where no line should run', () => {
    const plan = run(
      addNotHere(left),
      addNotHere(right),
      changeNotHere(1, { name: 'lettering', radiusMm: 12 }),
      changeNotHere(1, { radiusMm: 0 }),
    );
    expect(plan.parting.notHere).toEqual([
      { name: 'Not here 1', dabsMm: [left], radiusMm: FIRST_AVOID_RADIUS_MM },
      { name: 'lettering', dabsMm: [right], radiusMm: 12 },
    ]);
    expect(run(addNotHere(left), removeNotHere(0)).parting.notHere).toEqual([]);
  });

  it('fills spots one by one and takes the right one back', () => {
    const filled = run(fillSpot(left), fillSpot(right));
    expect(filled.parting.blockOut).toEqual([left, right]);
    const near: Vec3 = [9, 1, 5];
    expect(emptySpot(near, [left, near])(filled).parting.blockOut).toEqual([left]);
    expect(takeFillerBack()(filled).parting.blockOut).toEqual([]);
  });

  it('keeps the others filled when one of all is taken back', () => {
    const all = run(fillAllSpots());
    expect(all.parting.blockOut).toBe('all');
    expect(fillSpot(left)(all).parting.blockOut).toBe('all');
    expect(emptySpot(left, [left, right])(all).parting.blockOut).toEqual([right]);
  });

  it('takes a suggestion as the own lines, in one entry of the history, filler taken back', () => {
    const lines = [{ id: 's-1', points: [left, [0, 0, 30], right] as const, closed: false }];
    const planPieces = [{ anchorMm: left, name: 'left', pull: [-1, 0, 0] as const }];
    const undercut = { areaMm2: 0, maxDepthMm: 0, fillerMm3: 0 };
    const pieces = [
      { id: 'A', pull: [-1, 0, 0] as const, areaMm2: 1, massG: 1, undercut },
      { id: 'B', pull: [1, 0, 0] as const, areaMm2: 1, massG: 1, undercut },
    ];
    const store = new SessionStore(run(fillAllSpots(), setRubberGive(2)));
    const before = store.state.plan;
    store.edit(takeSuggestion({ lines, planPieces, pieces }));
    const { parting } = store.state.plan;
    expect(parting).toEqual({
      ...before.parting,
      pieceCount: 2,
      pullAzimuthsDeg: 'auto',
      lines,
      pieces: planPieces,
      blockOut: [],
    });
    store.undo();
    expect(store.state.plan).toBe(before);
    expect(store.state.canUndo).toBe(false);
  });

  it('leaves marks and filled spots where they lie when the unit changes', () => {
    const plan = resizePlan(run(addNotHere(left), fillSpot(right), setRubberGive(2)), 10);
    expect(plan.parting.notHere[0]).toEqual({
      name: 'Not here 1',
      dabsMm: [[-100, 0, 50]],
      radiusMm: 10 * FIRST_AVOID_RADIUS_MM,
    });
    expect(plan.parting.blockOut).toEqual([[100, 0, 50]]);
    // The give is the rubber's own, whatever the size of the mould.
    expect(plan.parting.rubberGiveMm).toBe(2);
  });
});

describe('deepestLock', () => {
  it('is null until every piece is worked out, then the deepest of all with the filler of all', () => {
    const result = madeUpResult();
    expect(deepestLock(result)).toBeNull();
    const [a, b] = result.pieces;
    const shallow = { ...madeUpUndercut(), maxDepthMm: 0.4, maxDepthErrorMm: 0.05 };
    expect(deepestLock({ ...result, pieces: [{ ...a, undercut: shallow }, b] })).toBeNull();
    const both = [
      { ...a, undercut: shallow },
      { ...b, undercut: madeUpUndercut() },
    ];
    expect(deepestLock({ ...result, pieces: both })).toEqual({
      depthMm: 6.2,
      depthErrorMm: 0.1,
      piece: 'B',
      fillerBeyondGiveG: 8.8,
    });
  });
});
