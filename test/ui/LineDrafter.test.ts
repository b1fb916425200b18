import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { SnappedPoint, SnapTo } from '../../src/core/parting/draw/SnappedPoint.ts';
import { type LinePicture, type Planner, PlannerError } from '../../src/jobs/protocol.ts';
import { addLine } from '../../src/session/partingActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { LineDrafter } from '../../src/ui/control/LineDrafter.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';

interface Asked<Request, Answer> {
  readonly request: Request;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: unknown) => void;
}

/** A planner whose questions about lines are answered by the test, in any order. */
class SlowPlanner implements Planner {
  readonly paths: Asked<readonly Vec3[], LinePicture>[] = [];
  readonly snaps: Asked<{ point: Vec3; to: readonly SnapTo[]; reachMm: number }, SnappedPoint>[] = [];
  readonly smooths: Asked<readonly Vec3[], readonly Vec3[]>[] = [];

  path(points: readonly Vec3[]): Promise<LinePicture> {
    return new Promise((resolve, reject) => this.paths.push({ request: points, resolve, reject }));
  }
  snap(point: Vec3, to: readonly SnapTo[], reachMm: number): Promise<SnappedPoint> {
    return new Promise((resolve, reject) =>
      this.snaps.push({ request: { point, to, reachMm }, resolve, reject }),
    );
  }
  smooth(points: readonly Vec3[]): Promise<readonly Vec3[]> {
    return new Promise((resolve, reject) => this.smooths.push({ request: points, resolve, reject }));
  }
  open = (name: string) => Promise.resolve(fakeOpened(name));
  plan = () => Promise.resolve();
  section = () => Promise.reject(new DOMException('not here', 'AbortError'));
  chart = () => Promise.reject(new DOMException('not here', 'AbortError'));
  suggest = () => Promise.reject(new DOMException('not here', 'AbortError'));
  map() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  sides() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  bundle() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  unbundle() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  dispose() {}
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));
const badLine = (message: string): PlannerError =>
  new PlannerError({ kind: 'plan', code: 'bad-line', message });

function start() {
  const planner = new SlowPlanner();
  const store = new SessionStore(fakePlan());
  let changes = 0;
  const drafter = new LineDrafter(store, planner, () => changes++);
  store.openJob({ name: 'a.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('a.stl') }, fakePlan());
  store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
  return { planner, store, drafter };
}

describe('LineDrafter: snapping', () => {
  it('asks for nothing while no kind is on', () => {
    const { planner, drafter } = start();
    drafter.startDrawing();
    drafter.addPoint([1, 2, 3]);
    expect(planner.snaps).toHaveLength(0);
  });

  it('shows the point as clicked at once and moves it when the answer comes', async () => {
    const { planner, drafter } = start();
    drafter.setSnap('ridge', true);
    drafter.setSnap('board', true);
    drafter.startDrawing();
    drafter.addPoint([1, 2, 3]);
    expect(drafter.state.points).toEqual([[1, 2, 3]]);
    expect(planner.snaps[0].request.to).toEqual(['ridge', 'board']);
    // 2.5 % of the diagonal of 20 x 10 x 30 mm.
    expect(planner.snaps[0].request.reachMm).toBeCloseTo(0.025 * Math.sqrt(1400), 12);
    planner.snaps[0].resolve({ point: [1, 2, 0], to: 'board' });
    await settle();
    expect(drafter.state.points).toEqual([[1, 2, 0]]);
    expect(drafter.state.snapped).toBe('board');
  });

  it('each of two quick clicks snaps, whichever answer comes first', async () => {
    const { planner, drafter } = start();
    drafter.setSnap('ridge', true);
    drafter.startDrawing();
    drafter.addPoint([1, 0, 0]);
    drafter.addPoint([2, 0, 0]);
    planner.snaps[1].resolve({ point: [2, 5, 0], to: 'ridge' });
    await settle();
    planner.snaps[0].resolve({ point: [1, 5, 0], to: 'ridge' });
    await settle();
    expect(drafter.state.points).toEqual([
      [1, 5, 0],
      [2, 5, 0],
    ]);
  });

  it('an answer for a point that was taken back changes nothing', async () => {
    const { planner, drafter } = start();
    drafter.setSnap('ridge', true);
    drafter.startDrawing();
    drafter.addPoint([1, 0, 0]);
    drafter.stepBack();
    planner.snaps[0].resolve({ point: [1, 5, 0], to: 'ridge' });
    await settle();
    expect(drafter.state.points).toEqual([]);
  });

  it('dragging: the pointer is followed at once, a late answer never overtakes it', async () => {
    const { planner, drafter } = start();
    drafter.setSnap('silhouette', true);
    drafter.startEditing();
    const shown = () => Array.from(drafter.state.picture?.controlPoints.slice(3, 6) ?? []);
    drafter.movePoint(0, 1, [1, 0, 29], false);
    expect(shown()).toEqual([1, 0, 29]);
    drafter.movePoint(0, 1, [2, 0, 28], false);
    drafter.movePoint(0, 1, [3, 0, 27], false);
    planner.snaps[0].resolve({ point: [9, 9, 9], to: 'silhouette' });
    await settle();
    expect(shown()).toEqual([3, 0, 27]);
    // Of the two that waited only the newer was asked for.
    expect(planner.snaps).toHaveLength(2);
    expect(planner.snaps[1].request.point).toEqual([3, 0, 27]);
    planner.snaps[1].resolve({ point: [3, 0, 25], to: 'silhouette' });
    await settle();
    expect(shown()).toEqual([3, 0, 25]);
  });

  it('a dropped point goes into the plan where it snapped to, as one entry', async () => {
    const { planner, drafter, store } = start();
    drafter.setSnap('ridge', true);
    drafter.startEditing();
    drafter.movePoint(0, 1, [1, 0, 29], false);
    drafter.movePoint(0, 1, [2, 0, 28], true);
    expect(store.state.plan.parting.lines).toBe('auto');
    planner.snaps.at(-1)?.resolve({ point: [2, 0, 26], to: 'ridge' });
    await settle();
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [2, 0, 26],
          [0, 5, 0],
        ],
      },
    ]);
    store.undo();
    expect(store.state.canUndo).toBe(false);
  });

  it('a point is not lost when snapping fails, and the failure is said', async () => {
    const { planner, drafter, store } = start();
    drafter.setSnap('ridge', true);
    drafter.startEditing();
    drafter.movePoint(0, 1, [2, 0, 28], true);
    planner.snaps.at(-1)?.reject(badLine('There is no surface to draw a line on.'));
    await settle();
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [2, 0, 28],
          [0, 5, 0],
        ],
      },
    ]);
    expect(drafter.state.problem).toBe('There is no surface to draw a line on.');
  });

  it('kinds stay on from line to line and can be put off', () => {
    const { drafter } = start();
    drafter.setSnap('ridge', true);
    drafter.setSnap('ridge', true);
    drafter.startDrawing();
    drafter.rest();
    expect(drafter.state.snapTo).toEqual(['ridge']);
    drafter.setSnap('ridge', false);
    expect(drafter.state.snapTo).toEqual([]);
  });

  it('a point put into a line snaps too, in one entry', async () => {
    const { planner, drafter, store } = start();
    drafter.setSnap('ridge', true);
    drafter.startEditing();
    drafter.addPoint([0, -2, 10]);
    planner.snaps[0].resolve({ point: [0, -2, 12], to: 'ridge' });
    await settle();
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [0, -2, 12],
          [0, 0, 30],
          [0, 5, 0],
        ],
      },
    ]);
    store.undo();
    expect(store.state.canUndo).toBe(false);
  });
});

describe('LineDrafter: smoothing', () => {
  it('one entry of the history, the line becomes the user’s own', async () => {
    const { planner, drafter, store } = start();
    const done = drafter.smoothLine(0);
    expect(drafter.state.isSmoothing).toBe(true);
    planner.smooths[0].resolve([
      [0, -5, 0],
      [0, 0, 20],
      [0, 5, 0],
    ]);
    await done;
    expect(drafter.state.isSmoothing).toBe(false);
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [0, 0, 20],
          [0, 5, 0],
        ],
      },
    ]);
    store.undo();
    expect(store.state.plan.parting.lines).toBe('auto');
    expect(store.state.canUndo).toBe(false);
  });

  it('is dropped when the plan was changed meanwhile', async () => {
    const { planner, drafter, store } = start();
    const done = drafter.smoothLine(0);
    store.edit(
      addLine(
        [
          [0, 0, 0],
          [1, 1, 1],
        ],
        false,
      ),
    );
    const { plan } = store.state;
    planner.smooths[0].resolve([
      [0, -5, 0],
      [0, 5, 0],
    ]);
    await done;
    expect(store.state.plan).toBe(plan);
  });

  it('says why a line cannot be smoothed', async () => {
    const { planner, drafter } = start();
    const done = drafter.smoothLine(0);
    planner.smooths[0].reject(badLine('The parting line crosses itself.'));
    await done;
    expect(drafter.state.problem).toBe('The parting line crosses itself.');
  });
});

describe('LineDrafter: caps and splitting', () => {
  it('a cap is closed from the start', () => {
    const { drafter } = start();
    drafter.startCap();
    for (const x of [1, 2]) drafter.addPoint([x, 0, 0]);
    expect(drafter.canFinish).toBe(false);
    drafter.addPoint([0, 3, 0]);
    expect(drafter.canFinish).toBe(true);
  });

  it('a line that splits a piece leaves the suggested lines where they are', () => {
    const { drafter, store } = start();
    drafter.startSplitting('B');
    expect(drafter.state).toMatchObject({ mode: 'draw', splitting: 'B' });
    drafter.addPoint([10, -5, 0]);
    drafter.addPoint([10, 5, 30]);
    drafter.finish();
    const { parting } = store.state.plan;
    expect(parting.lines).toMatchObject([
      { id: 'auto-1' },
      {
        points: [
          [10, -5, 0],
          [10, 5, 30],
        ],
      },
    ]);
    expect(parting.pieces.map((p) => p.name)).toEqual(['A', 'B']);
    store.undo();
    expect(store.state.plan.parting.lines).toBe('auto');
  });
});

describe('LineDrafter: what is wrong with a line', () => {
  const points: Vec3[] = [
    [0, 0, 0],
    [1, 0, 0],
    [0, 0, 9],
  ];

  it('a line that cannot be laid is not taken, keeps its points and says why', async () => {
    const { planner, drafter, store } = start();
    drafter.startDrawing();
    for (const point of points) drafter.addPoint(point);
    planner.paths[0].reject(badLine('x'));
    await settle();
    planner.paths[1].reject(badLine('The parting line crosses itself near (1, 0, 0) mm.'));
    await settle();
    expect(drafter.state.problem).toContain('crosses itself');
    expect(drafter.state.points).toEqual(points);
    expect(drafter.canFinish).toBe(false);
    drafter.finish();
    expect(store.state.canUndo).toBe(false);
    drafter.stepBack();
    expect(drafter.state.problem).toBeNull();
    expect(drafter.canFinish).toBe(true);
  });

  it('a line that the plan refuses comes back under the pencil, with its points and the reason', async () => {
    const { planner, drafter, store } = start();
    drafter.startDrawing();
    for (const point of points) drafter.addPoint(point);
    drafter.finish();
    expect(store.state.plan.parting.lines).toHaveLength(1);
    const message = 'The parting line ends at (0, 0, 9) mm, short of the board.';
    store.setFailure({ kind: 'plan', code: 'bad-line', message });
    expect(store.state.plan.parting.lines).toBe('auto');
    expect(drafter.state).toMatchObject({ mode: 'draw', points, problem: message });
    // The way between the points is sound; that does not take the reason away.
    for (const asked of planner.paths) {
      asked.resolve({
        id: 'x',
        closed: false,
        path: new Float32Array(6),
        controlPoints: new Float32Array(6),
      });
      await settle();
    }
    expect(drafter.state.problem).toBe(message);
    drafter.addPoint([0, -5, 0]);
    expect(drafter.state.problem).toBeNull();
    drafter.finish();
    expect(store.state.plan.parting.lines).toMatchObject([{ points: [...points, [0, -5, 0]] }]);
  });

  it('another failure, or that of another plan, takes nothing back', () => {
    const { drafter, store } = start();
    drafter.startDrawing();
    for (const point of points) drafter.addPoint(point);
    drafter.finish();
    store.setFailure({ kind: 'plan', code: 'too-fine', message: 'Too fine.' });
    expect(store.state.plan.parting.lines).toHaveLength(1);
    store.edit(
      addLine(
        [
          [5, 0, 0],
          [6, 0, 0],
        ],
        false,
      ),
    );
    store.setFailure({ kind: 'plan', code: 'bad-line', message: 'Line 2 separates nothing.' });
    expect(store.state.plan.parting.lines).toHaveLength(2);
    expect(drafter.state.mode).toBe('look');
  });
});
