import { describe, expect, it } from 'vitest';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import { isStale, SessionStore } from '../../src/session/SessionStore.ts';
import { fakeAnswer, fakeOpened, fakePlan } from './fakeAnswer.ts';

function openStore(): SessionStore {
  const store = new SessionStore(fakePlan());
  store.openJob({ name: 'bust.stl', bytes: new ArrayBuffer(1), opened: fakeOpened('bust.stl') }, fakePlan());
  store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
  return store;
}

describe('SessionStore', () => {
  it('raises the revision with every change and leaves it for none', () => {
    const store = openStore();
    const { revision } = store.state;
    store.edit((plan) => ({ ...plan }));
    store.setPrefs({ apart: 0.5 });
    expect(store.state.revision).toBe(revision);
    store.edit(setCoatThickness(0, 7));
    expect(store.state.revision).toBe(revision + 1);
    expect(isStale(store.state)).toBe(true);
  });

  it('drops the answer to a plan that has changed since', () => {
    const store = openStore();
    const old = fakeAnswer(store.state.plan, store.state.revision);
    const shown = store.state.answer;
    store.edit(setCoatThickness(0, 7));
    store.takeAnswer(old);
    expect(store.state.answer).toBe(shown);
  });

  it('shows answers to earlier steps of a drag while it goes on, and not after it', () => {
    const store = openStore();
    store.edit(setCoatThickness(0, 3), 'drag');
    const step = fakeAnswer(store.state.plan, store.state.revision);
    store.edit(setCoatThickness(0, 4), 'drag');
    store.takeAnswer(step);
    expect(store.state.answer?.revision).toBe(step.revision);
    expect(isStale(store.state)).toBe(true);
    store.endGesture();
    store.takeAnswer(fakeAnswer(store.state.plan, step.revision));
    expect(store.state.answer?.revision).toBe(step.revision);
    store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
    expect(isStale(store.state)).toBe(false);
  });

  it('compares with the totals before the whole drag, not before its last step', () => {
    const store = openStore();
    const before = store.state.answer?.result.shell.massG;
    for (const mm of [3, 4, 5]) {
      store.edit(setCoatThickness(0, mm), 'drag');
      store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
    }
    expect(store.state.before?.shellMassG).toBe(before);
    store.edit(setCoatThickness(0, 9));
    expect(store.state.before?.shellMassG).not.toBe(before);
  });

  it('keeps the rubber when an answer says that it has not changed', () => {
    const store = openStore();
    const rubber = store.state.answer?.geometry.rubber;
    store.edit(setCoatThickness(0, 7));
    const next = fakeAnswer(store.state.plan, store.state.revision);
    store.takeAnswer({ ...next, geometry: { ...next.geometry, rubber: null } });
    expect(store.state.answer?.geometry.rubber).toBe(rubber);
  });

  it('undoes plans and never looks', () => {
    const store = openStore();
    store.edit(setCoatThickness(0, 7));
    store.setPrefs({ stage: 'mix' });
    store.undo();
    expect(store.state.plan.coats[0].thicknessMm).toBe(fakePlan().coats[0].thicknessMm);
    expect(store.state.prefs.stage).toBe('mix');
    store.redo();
    expect(store.state.plan.coats[0].thicknessMm).toBe(7);
  });

  it('never brings back a plan for a scan that is gone', () => {
    const store = openStore();
    store.edit(setCoatThickness(0, 7));
    store.openJob({ name: 'b.ply', bytes: new ArrayBuffer(2), opened: fakeOpened('b.ply') }, fakePlan());
    expect(store.state.canUndo).toBe(false);
    expect(store.state.answer).toBeNull();
    expect(store.state.before).toBeNull();
  });

  it('replaces a notice of the same topic and puts it away', () => {
    const store = openStore();
    store.notify('open', 'problem', 'one');
    store.notify('open', 'problem', 'two');
    expect(store.state.notices.map((n) => n.text)).toEqual(['two']);
    store.dismiss('open');
    expect(store.state.notices).toEqual([]);
  });
});
