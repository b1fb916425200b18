import { beforeAll, describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { type BandSource, makeBandSource } from '../../src/core/field/BandSource.ts';
import { cutIntoSlabs } from '../../src/core/field/slabs/cutIntoSlabs.ts';
import { beginField, type IntegratedField, makeField } from '../../src/core/field/slabs/makeField.ts';
import { SINGLE_RUNNER } from '../../src/core/field/slabs/SlabRunner.ts';
import { SlabDesk } from '../../src/jobs/slabs/SlabDesk.ts';
import { SlabPool } from '../../src/jobs/slabs/SlabPool.ts';
import type { FromHand, HandThread, ToHand } from '../../src/jobs/slabs/slabMessages.ts';
import { preparedFromMesh } from '../core/parting/preparedFromMesh.ts';
import { octasphere } from '../fixtures/shapes.ts';

const ORDER = { cellMm: 2, bandMm: 8, isClosed: true, knotMm: 1, knotCount: 9 };

/** A hand in this thread, with messages copied as between threads. */
class NearThread implements HandThread {
  onmessage: ((message: FromHand) => void) | null = null;
  onlost: (() => void) | null = null;
  slabs = 0;
  cancels = 0;
  private desk: SlabDesk | undefined;

  constructor(private readonly diesAtSlab = Infinity) {
    queueMicrotask(() => {
      this.desk = new SlabDesk((message, transfer) =>
        this.onmessage?.(structuredClone(message, { transfer })),
      );
    });
  }

  postMessage(message: ToHand): void {
    if (message.kind === 'cancel') this.cancels++;
    if (message.kind === 'slab' && ++this.slabs >= this.diesAtSlab) this.onlost?.();
    else this.desk?.receive(structuredClone(message));
  }

  terminate(): void {}
}

describe('a pool of threads for a large field', () => {
  let source: BandSource;
  let single: IntegratedField;

  beforeAll(async () => {
    source = makeBandSource(preparedFromMesh(octasphere(100, 24), false));
    expect(cutIntoSlabs(source, ORDER)).toHaveLength(2);
    single = await makeField(source, ORDER, SINGLE_RUNNER, new Checkpoint());
  });

  it('gives the same to the last bit, whoever made which slab', async () => {
    const thread = new NearThread();
    const field = await makeField(source, ORDER, new SlabPool(() => thread, 1), new Checkpoint());
    // It was asked for both; the one that it had not begun was taken back.
    expect([thread.slabs, thread.cancels]).toEqual([2, 1]);
    expectSame(field, single);
  });

  it('makes fields that nobody waits for yet, one after the other', async () => {
    const thread = new NearThread();
    const pool = new SlabPool(() => thread, 1);
    const other = { ...ORDER, cellMm: 1.8 };
    const jobs = [other, ORDER].map((order) => beginField(source, order, pool));
    while (!jobs.every((job) => job.isMade())) await new Promise((resolve) => setTimeout(resolve, 5));
    expect([thread.slabs, thread.cancels]).toEqual([4, 0]);
    expectSame(
      await jobs[0].finish(new Checkpoint()),
      await makeField(source, other, SINGLE_RUNNER, new Checkpoint()),
    );
    expectSame(await jobs[1].finish(new Checkpoint()), single);
  });

  it('goes on with the others when one is cancelled', async () => {
    const thread = new NearThread();
    const pool = new SlabPool(() => thread, 1);
    const [first, second] = [1.8, 2].map((cellMm) => beginField(source, { ...ORDER, cellMm }, pool));
    await new Promise((resolve) => setTimeout(resolve, 5));
    first.cancel();
    while (!second.isMade()) await new Promise((resolve) => setTimeout(resolve, 5));
    expectSame(await second.finish(new Checkpoint()), single);
  });

  it('makes itself what a hand that was lost had begun', async () => {
    const thread = new NearThread(1);
    const field = await makeField(source, ORDER, new SlabPool(() => thread, 1), new Checkpoint());
    expect(thread.slabs).toBe(1);
    expectSame(field, single);
  });

  it('makes itself what a hand cannot make, and does not ask it again', async () => {
    const thread = new NearThread();
    const field = beginField(source, ORDER, new SlabPool(() => thread, 1));
    thread.postMessage = (message) => {
      if (message.kind !== 'slab') return;
      thread.slabs++;
      queueMicrotask(() => thread.onmessage?.({ kind: 'failed', id: message.id, why: 'no memory' }));
    };
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(thread.slabs).toBe(2);
    expectSame(await field.finish(new Checkpoint()), single);
    expect(thread.slabs).toBe(2);
  });

  it('does without a hand that has no memory for the surface', async () => {
    const thread = new NearThread();
    thread.postMessage = () => {
      throw new RangeError('Array buffer allocation failed');
    };
    expectSame(await makeField(source, ORDER, new SlabPool(() => thread, 1), new Checkpoint()), single);
  });

  it('does without hands that cannot be started, and does not try for ever', async () => {
    let starts = 0;
    const pool = new SlabPool(() => {
      starts++;
      const thread = new NearThread();
      setTimeout(() => thread.onlost?.());
      return thread;
    }, 1);
    for (let n = 0; n < 9; n++) {
      pool.wake();
      await new Promise((resolve) => setTimeout(resolve, 2));
    }
    expect(starts).toBe(4);
    expectSame(await makeField(source, ORDER, pool, new Checkpoint()), single);
  });

  it('does without hands where none may be started', async () => {
    const pool = new SlabPool(() => {
      throw new Error('refused');
    }, 1);
    expectSame(await makeField(source, ORDER, pool, new Checkpoint()), single);
  });

  it('a cancel reaches the hands', async () => {
    const thread = new NearThread();
    const abort = new AbortController();
    const cp = new Checkpoint(() => abort.abort(new Error('enough')), abort.signal);
    await expect(makeField(source, ORDER, new SlabPool(() => thread, 1), cp)).rejects.toThrow('enough');
    expect(thread.cancels).toBe(2);
  });
});

function expectSame(one: IntegratedField, other: IntegratedField): void {
  // Through bytes: -0, NaN and the last bit count.
  const bytes = ({ grid, tables }: IntegratedField): Buffer[] =>
    [grid.phi, grid.tri, grid.corners, tables.rows].map((array) => Buffer.from(array.buffer));
  const [a, b] = [bytes(one), bytes(other)];
  for (let n = 0; n < a.length; n++) expect(a[n].equals(b[n])).toBe(true);
}
