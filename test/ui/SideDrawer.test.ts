import { describe, expect, it } from 'vitest';
import type { PrintedSide } from '../../src/core/picture/SidePicture.ts';
import type { DrawnSides, Planner } from '../../src/jobs/protocol.ts';
import { PlannerError } from '../../src/jobs/protocol.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { SideDrawer } from '../../src/ui/control/SideDrawer.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';

const PICTURE: PrintedSide = {
  side: 'front',
  widthPx: 2,
  heightPx: 1,
  mmPerPx: 1,
  png: Uint8Array.of(137, 80, 78, 71),
  labels: [],
};

interface Asked {
  readonly resolve: (drawn: DrawnSides) => void;
  readonly reject: (error: unknown) => void;
}

/** A store with an answered plan on the stage of the sheet, and a planner whose drawings the test hands in. */
function setUp(stage: 'coats' | 'sheet' = 'sheet') {
  const asked: Asked[] = [];
  const planner = {
    sides: () => new Promise<DrawnSides>((resolve, reject) => asked.push({ resolve, reject })),
  } as unknown as Planner;
  const store = new SessionStore(fakePlan());
  let changes = 0;
  const drawer = new SideDrawer(store, planner, () => {
    changes++;
  });
  store.openJob({ name: 'bust.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('bust.stl') }, fakePlan());
  store.setPrefs({ stage });
  const answer = (isFinal = true) =>
    store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision, isFinal));
  const deliver = async (n: number, revision = store.state.revision) => {
    asked[n].resolve({ revision, pictures: [PICTURE] });
    await new Promise((resolve) => setTimeout(resolve, 1));
  };
  return { asked, store, drawer, answer, deliver, changes: () => changes };
}

describe('SideDrawer', () => {
  it('draws when the whole answer stands and the sheet is in sight', async () => {
    const { asked, drawer, answer, deliver } = setUp();
    answer(false);
    expect(asked).toHaveLength(0);
    answer();
    expect(asked).toHaveLength(1);
    expect(drawer.sides).toBeNull();
    await deliver(0);
    expect(drawer.sides?.map(({ picture }) => picture.side)).toEqual(['front']);
    expect(drawer.sides?.[0].href).toMatch(/^blob:/);
  });

  it('draws nothing on another stage, and draws when the sheet is opened', () => {
    const { asked, store, answer } = setUp('coats');
    answer();
    expect(asked).toHaveLength(0);
    store.setPrefs({ stage: 'sheet' });
    expect(asked).toHaveLength(1);
  });

  it('keeps its pictures when only amounts change, and drops them when the mould does', async () => {
    const { asked, store, drawer, answer, deliver } = setUp();
    answer();
    await deliver(0);
    store.edit(setCoatThickness(0, 3));
    answer();
    expect(asked).toHaveLength(1);
    expect(drawer.sides).not.toBeNull();
    const other = fakeAnswer(store.state.plan, store.state.revision);
    store.takeAnswer({
      ...other,
      result: { ...other.result, partingLines: [{ between: ['A', 'B'], lengthMm: 99, points: [] }] },
    });
    expect(drawer.sides).toBeNull();
    expect(asked).toHaveLength(2);
  });

  it('takes no pictures of another plan, and asks no more for the answer that it missed', async () => {
    const { asked, store, drawer, answer, deliver } = setUp();
    answer();
    await deliver(0, store.state.revision + 1);
    expect(drawer.sides).toBeNull();
    store.setPrefs({ units: 'us' });
    expect(asked).toHaveLength(1);
    store.edit(setCoatThickness(0, 3));
    answer();
    expect(asked).toHaveLength(2);
    await deliver(1);
    expect(drawer.sides).not.toBeNull();
  });

  it('says why there are no pictures, once, and keeps nobody waiting', async () => {
    const { asked, store, drawer, answer } = setUp();
    answer();
    let isReady = false;
    const waited = drawer.ready().then(() => {
      isReady = true;
    });
    await Promise.resolve();
    expect(isReady).toBe(false);
    asked[0].reject(new PlannerError({ kind: 'internal', code: 'internal', message: 'No room.' }));
    await waited;
    expect(store.state.notices.map(({ topic, text }) => [topic, text])).toEqual([
      ['sides', 'The sheet’s pictures could not be drawn. No room.'],
    ]);
    await drawer.ready();
    expect(asked).toHaveLength(1);
  });
});
