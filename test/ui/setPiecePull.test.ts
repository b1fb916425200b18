import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { addLine, setPieceCount, setPullAzimuths } from '../../src/session/partingActions.ts';
import { type PlanEdit, SessionStore } from '../../src/session/SessionStore.ts';
import { pullOf } from '../../src/ui/chart/pullDisc.ts';
import { namePiece, setPiecePull, setPullPair } from '../../src/ui/setPiecePull.ts';
import { fakeAnswer, fakePlan } from '../session/fakeAnswer.ts';

/** A session whose answer has two pieces, A pulled to the left and B to the right. */
function session(...edits: PlanEdit[]) {
  const plan = edits.reduce((next, edit) => edit(next), fakePlan());
  const store = new SessionStore(plan);
  store.takeAnswer(fakeAnswer(plan, 1));
  return store.state;
}

const ownLine = addLine(
  [
    [0, -5, 0],
    [0, 0, 30],
    [0, 5, 0],
  ],
  false,
);

function apply(edit: PlanEdit | null, plan: PlanDocument): PlanDocument {
  if (!edit) throw new Error('There was no edit.');
  const next = edit(plan);
  expect(parsePlan(JSON.parse(JSON.stringify(next)))).toEqual(next);
  return next;
}

function pullsOf(plan: PlanDocument): (Vec3 | null)[] {
  return plan.parting.pieces.map((piece) => piece.pull);
}

describe('the pull of a piece', () => {
  it('turns the tool’s own line when it is level, both pieces opposite', () => {
    const state = session();
    const a = apply(setPiecePull(state, 0, pullOf(30, 0)), state.plan);
    expect(a.parting.pullAzimuthsDeg).toEqual([30]);
    expect(a.parting.lines).toBe('auto');
    const b = apply(setPiecePull(state, 1, pullOf(30, 0)), state.plan);
    expect(b.parting.pullAzimuthsDeg).toEqual([210]);
  });

  it('is that piece’s own when it rises; the line stays, and a level pull later takes it back', () => {
    const state = session(setPullAzimuths([180]));
    const tilted = pullOf(180, 20);
    const plan = apply(setPiecePull(state, 0, tilted), state.plan);
    expect(plan.parting.pullAzimuthsDeg).toEqual([180]);
    expect(pullsOf(plan)).toEqual([tilted, null]);
    const level = apply(setPiecePull({ ...state, plan }, 0, pullOf(90, 0)), plan);
    expect(level.parting.pullAzimuthsDeg).toEqual([90]);
    expect(pullsOf(level)).toEqual([null, null]);
  });

  it('is the piece’s own on the user’s lines, and the other keeps its own', () => {
    const state = session(ownLine);
    const plan = apply(setPiecePull(state, 1, pullOf(45, 0)), state.plan);
    expect(pullsOf(plan)).toEqual([[-1, 0, 0], pullOf(45, 0)]);
    expect(plan.parting.pullAzimuthsDeg).toBe('auto');
  });

  it('of one among three on the tool’s line changes that azimuth alone', () => {
    const state = session(setPieceCount(3));
    const answer = state.answer;
    if (!answer) throw new Error('No answer.');
    const [a, b] = answer.result.pieces;
    const c = { ...b, id: 'C', name: 'C', pull: pullOf(90, 0) };
    const three = { ...answer, result: { ...answer.result, pieces: [a, b, c] } };
    const pictures = [...answer.geometry.pieces, answer.geometry.pieces[1]];
    const withThree = {
      ...state,
      answer: { ...three, geometry: { ...answer.geometry, pieces: pictures } },
    };
    const plan = apply(setPiecePull(withThree, 2, pullOf(75, 0)), state.plan);
    expect(plan.parting.pullAzimuthsDeg).toEqual([180, 0, 75]);
  });

  it('is none without an answer or such a piece', () => {
    expect(setPiecePull(new SessionStore(fakePlan()).state, 0, [1, 0, 0])).toBeNull();
    expect(setPiecePull(session(), 2, [1, 0, 0])).toBeNull();
  });
});

describe('a pair of pulls', () => {
  it('goes opposite ways, on the tool’s line by its azimuth, on the user’s by the pieces', () => {
    const auto = session();
    expect(apply(setPullPair(auto, pullOf(30, 0)), auto.plan).parting.pullAzimuthsDeg).toEqual([30]);
    const own = session(ownLine);
    const [a, b] = pullsOf(apply(setPullPair(own, pullOf(30, 0)), own.plan));
    expect(a).toEqual(pullOf(30, 0));
    b?.forEach((x, k) => {
      expect(x).toBeCloseTo(-pullOf(30, 0)[k], 12);
    });
  });

  it('has a level opposite on a board, a true one without, and none for straight up on a board', () => {
    const own = session(ownLine);
    const onBoard = pullsOf(apply(setPullPair(own, pullOf(30, 40)), own.plan))[1];
    onBoard?.forEach((x, k) => {
      expect(x).toBeCloseTo(-pullOf(30, 0)[k], 12);
    });
    expect(setPullPair(own, [0, 0, 1])).toBeNull();
    const free = { ...own, plan: { ...own.plan, scan: { ...own.plan.scan, board: 'none' as const } } };
    const down = pullsOf(apply(setPullPair(free, [0, 0, 1]), free.plan))[1];
    down?.forEach((x, k) => {
      expect(x).toBeCloseTo([0, 0, -1][k], 12);
    });
  });
});

describe('the name of a piece', () => {
  it('leaves the pulls whose they are', () => {
    const auto = session();
    const plan = apply(namePiece(auto, 0, 'left half'), auto.plan);
    expect(plan.parting.pieces.map((p) => [p.name, p.pull])).toEqual([
      ['left half', null],
      ['B', null],
    ]);
    const own = session(ownLine);
    expect(pullsOf(apply(namePiece(own, 0, 'left half'), own.plan))).toEqual([
      [-1, 0, 0],
      [1, 0, 0],
    ]);
  });
});
