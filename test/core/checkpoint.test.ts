import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';

const until = (due: () => boolean): void => {
  const from = performance.now();
  while (!due() && performance.now() - from < 2000);
};

describe('Checkpoint', () => {
  it('maps fractions of nested phases into the whole, clamped, with the phase’s words', async () => {
    const told: [number, string][] = [];
    const cp = new Checkpoint((fraction, phase) => told.push([fraction, phase]));
    const phase = cp.within(0.2, 0.6, 'measuring');
    await phase.pause(0);
    await phase.within(0.5, 1, 'adding up').pause(0.5);
    await phase.pause(7);
    expect(told.map(([fraction, words]) => [Number(fraction.toFixed(12)), words])).toEqual([
      [0.2, 'measuring'],
      [0.5, 'adding up'],
      [0.6, 'measuring'],
    ]);
  });

  it('never goes back, where a step is done before its share or again', async () => {
    const told: number[] = [];
    const cp = new Checkpoint((fraction) => told.push(fraction));
    await cp.within(0.5, 1, 'ahead').pause(0.5);
    await cp.within(0, 0.5, 'behind').pause(0.5);
    await cp.pause(1);
    expect(told).toEqual([0.75, 0.75, 1]);
  });

  it('is due after a slice of work, for all phases at once, and not right after a pause', async () => {
    const cp = new Checkpoint();
    const phase = cp.within(0, 1, 'working');
    expect(phase.due()).toBe(false);
    until(() => phase.due());
    expect(phase.due()).toBe(true);
    expect(cp.due()).toBe(true);
    await phase.pause(0.5);
    expect(phase.due()).toBe(false);
    expect(cp.due()).toBe(false);
  });

  it('lets the event loop run, so that a cancel that waits in it is seen', async () => {
    const abort = new AbortController();
    const cp = new Checkpoint(() => {}, abort.signal);
    setImmediate(() => abort.abort());
    await expect(
      (async () => {
        for (let n = 0; n < 1000; n++) await cp.pause(n / 1000);
      })(),
    ).rejects.toMatchObject({ name: 'AbortError' });
  });

  it('throws the signal’s own reason', async () => {
    const abort = new AbortController();
    abort.abort(new Error('enough'));
    await expect(new Checkpoint(() => {}, abort.signal).within(0, 1, 'x').pause(0)).rejects.toThrow('enough');
  });
});
