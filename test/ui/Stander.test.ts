import { beforeEach, describe, expect, test } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PlanAnswer } from '../../src/jobs/protocol.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { standingOf } from '../../src/session/standAnew.ts';
import { turnVector } from '../../src/session/turnPlan.ts';
import { rotationOf } from '../../src/session/uprightAngles.ts';
import { Stander } from '../../src/ui/control/Stander.ts';
import { rubberPicture } from '../fixtures/rubberPicture.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';

let store: SessionStore;
let stander: Stander;

/** An answer whose rubber is a flat cross of four points 10 mm about (0, 0, 20), standing as the plan says, board 5 mm up. */
function answerNow(): PlanAnswer {
  const { plan, revision } = store.state;
  const { up, turnDeg, tiltDeg, board } = plan.scan;
  const r = rotationOf({ up: up === 'auto' ? 'z' : up, turnDeg, tiltDeg });
  const boardMm = typeof board === 'number' ? board : 5;
  const answer = fakeAnswer(plan, revision);
  const positions = Float32Array.from([10, 0, 20, -10, 0, 20, 0, 10, 10, 0, -10, 30]);
  return {
    ...answer,
    geometry: {
      ...answer.geometry,
      rubber: rubberPicture({ positions, indices: Uint32Array.from([0, 2, 1, 0, 1, 3]) }),
      fileToBoard: [...r.slice(0, 3), 0, ...r.slice(3, 6), 0, ...r.slice(6, 9), -boardMm],
    },
  };
}

const settle = (): void => store.takeAnswer(answerNow());

/** Where the picture draws a point of the mould during a trial. */
function drawn([x, y, z]: Vec3): Vec3 {
  const m = stander.state.trial.move;
  if (m === null) return [x, y, z];
  return [0, 4, 8].map((i) => m[i] * x + m[i + 1] * y + m[i + 2] * z + m[i + 3]) as [number, number, number];
}

beforeEach(() => {
  store = new SessionStore(fakePlan());
  const plan = fakePlan();
  store.openJob(
    { name: 'x.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('x.stl') },
    { ...plan, scan: { ...plan.scan, up: 'z', turnDeg: 0, tiltDeg: [0, 0], board: 5 } },
  );
  store.setPrefs({ stage: 'scan' });
  stander = new Stander(store, () => {});
  settle();
});

describe('Stander', () => {
  test('a drag turns the picture at once, and the plan when it is let go, in one entry', () => {
    stander.start('turn');
    for (let i = 0; i < 4; i++) stander.turnBy([0, 0, 1], Math.PI / 36);
    expect(store.state.canUndo).toBe(false);
    const [x, y] = drawn([10, 0, 20]);
    expect(Math.atan2(y, x)).toBeCloseTo(Math.PI / 9, 9);
    stander.release(true);
    expect(store.state.plan.scan.turnDeg).toBeCloseTo(20, 6);
    expect(stander.state.isWaiting).toBe(true);
    store.undo();
    expect(store.state.plan.scan.turnDeg).toBe(0);
    expect(store.state.canUndo).toBe(false);
  });

  test('let go near upright it is upright; farther off it stays tilted', () => {
    stander.start('turn');
    stander.turnBy([1, 0, 0], (2 * Math.PI) / 180);
    stander.release(true);
    expect(store.state.plan.scan.tiltDeg).toEqual([0, 0]);
    stander.turnBy([1, 0, 0], (8 * Math.PI) / 180);
    stander.release(true);
    expect(store.state.plan.scan.tiltDeg[0]).toBeCloseTo(8, 6);
  });

  test('a second drag before the answer goes on from the first', () => {
    stander.start('turn');
    stander.turnBy([0, 0, 1], Math.PI / 6);
    stander.release(true);
    stander.turnBy([0, 0, 1], Math.PI / 6);
    stander.release(true);
    expect(store.state.plan.scan.turnDeg).toBeCloseTo(60, 6);
    const [x, y] = drawn([10, 0, 20]);
    expect(Math.atan2(y, x)).toBeCloseTo(Math.PI / 3, 9);
    settle();
    expect(stander.state).toMatchObject({ mode: 'turn', isWaiting: false, trial: { move: null } });
  });

  test('the face chosen looks straight down, and the board is set under it, as drawn before the answer', () => {
    const normal: Vec3 = [0, Math.SQRT1_2, Math.SQRT1_2];
    stander.start('base');
    stander.standOn(normal, [0, 4, 26]);
    expect(drawn([0, 4, 26])[2]).toBeCloseTo(0, 9);
    const { scan } = store.state.plan;
    const r = rotationOf({ up: scan.up as 'z', turnDeg: scan.turnDeg, tiltDeg: scan.tiltDeg });
    // The mould stood as in its file, 5 mm above the board: the normal is the file's own.
    turnVector(r, normal).forEach((x, k) => {
      expect(x).toBeCloseTo([0, 0, -1][k], 7);
    });
    const inFile: Vec3 = [0, 4, 26 + 5];
    expect(turnVector(r, inFile)[2] - (scan.board as number)).toBeCloseTo(0, 3);
  });

  test('the board is tried while it slides and taken when it is let go; what was marked stays on the mould', () => {
    store.edit((plan) => ({
      ...plan,
      scan: { ...plan.scan, keepClear: [{ name: 'Key', radiusMm: 4, dabsMm: [[0, 0, 12]] }] },
    }));
    settle();
    stander.start('board');
    stander.slide(2, false);
    stander.slide(3, false);
    expect(stander.state.trial.boardMm).toBe(3);
    expect(store.state.plan.scan.board).toBe(5);
    stander.slide(3, true);
    expect(store.state.plan.scan.board).toBe(8);
    expect(store.state.plan.scan.keepClear[0].dabsMm[0]).toEqual([0, 0, 9]);
    // The picture still has the old frame: a further slide counts from where it was let go.
    stander.slide(-1, true);
    expect(store.state.plan.scan.board).toBe(7);
    expect(store.state.plan.scan.keepClear[0].dabsMm[0]).toEqual([0, 0, 10]);
    settle();
    expect(standingOf(answerNow().geometry.fileToBoard).boardMm).toBe(7);
    expect(stander.state).toMatchObject({ mode: 'board', boardMm: 0, isWaiting: false });
  });

  test('a cut is drawn until it is taken, and an undo puts everything away', () => {
    stander.startCut('upright');
    expect(stander.state.trial.planes).toHaveLength(1);
    stander.slide(-2, true);
    expect(store.state.plan.scan.crops).toHaveLength(0);
    stander.takeCut();
    expect(store.state.plan.scan.crops).toHaveLength(1);
    expect(stander.state).toMatchObject({ mode: 'rest', isWaiting: true });
    store.undo();
    expect(stander.state).toMatchObject({ mode: 'rest', isWaiting: false, trial: { planes: [] } });
  });

  test('what a level cut leaves stands on the board: the board goes up to the cut', () => {
    stander.startCut('level');
    const heightMm = -(stander.state.cut?.offsetMm ?? 0);
    expect(heightMm).toBeGreaterThan(0);
    stander.takeCut();
    expect(store.state.plan.scan.crops).toHaveLength(0);
    expect(store.state.plan.scan.board).toBeCloseTo(5 + heightMm, 4);
  });

  test('nothing is tried on a picture of an earlier plan, and leaving the stage lays the tool down', () => {
    store.edit((plan) => ({ ...plan, scan: { ...plan.scan, crumbShare: 0.5 } }));
    stander.start('turn');
    expect(stander.state.mode).toBe('rest');
    settle();
    stander.start('turn');
    expect(stander.state.mode).toBe('turn');
    store.setPrefs({ stage: 'coats' });
    expect(stander.state.mode).toBe('rest');
  });
});
