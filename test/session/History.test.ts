import { describe, expect, it } from 'vitest';
import { History } from '../../src/session/History.ts';

describe('History', () => {
  it('steps back and forth over single commits', () => {
    const history = new History('a');
    history.commit('b');
    history.commit('c');
    expect(history.undo()).toBe(true);
    expect(history.present).toBe('b');
    expect(history.redo()).toBe(true);
    expect(history.present).toBe('c');
    expect(history.redo()).toBe(false);
  });

  it('makes one entry of a drag, however many steps it has', () => {
    const history = new History(0);
    for (let step = 1; step <= 50; step++) history.commit(step, 'drag');
    history.endGesture();
    history.commit(99, 'drag');
    expect(history.undo()).toBe(true);
    expect(history.present).toBe(50);
    expect(history.undo()).toBe(true);
    expect(history.present).toBe(0);
    expect(history.canUndo).toBe(false);
  });

  it('tells a new entry from the same drag going on', () => {
    const history = new History(0);
    expect(history.commit(1, 'x')).toBe(true);
    expect(history.commit(2, 'x')).toBe(false);
    expect(history.commit(3, 'y')).toBe(true);
    expect(history.commit(4)).toBe(true);
    expect(history.commit(5)).toBe(true);
  });

  it('forgets the undone future when something new is done', () => {
    const history = new History('a');
    history.commit('b');
    history.undo();
    history.commit('c');
    expect(history.canRedo).toBe(false);
    history.undo();
    expect(history.present).toBe('a');
  });
});
