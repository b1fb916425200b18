import type { Checkpoint } from '../../core/checkpoint.ts';
import type { BandSource } from '../../core/field/BandSource.ts';
import { buildSlab } from '../../core/field/slabs/buildSlab.ts';
import type { FieldOrder } from '../../core/field/slabs/FieldOrder.ts';
import type { Slab, SlabField } from '../../core/field/slabs/Slab.ts';
import type { SlabRunner } from '../../core/field/slabs/SlabRunner.ts';
import { SlabHand } from './SlabHand.ts';
import type { HandThread } from './slabMessages.ts';

/** Between two looks whether the job was cancelled, while only hands work. */
const LOOK_MS = 20;

/** A hand that takes so many times as long as this thread took for its own slab, and this long besides, is taken for lost. */
const SLOW_FACTOR = 4;
const SLOW_MS = 10_000;

/** Hands that were lost are replaced so often; a machine that kills them has no room for them. */
const MOST_STARTS = 3;

/**
 * This thread and its hands share the slabs of a field. A hand that is not ready yet takes none, and what a lost one had
 * begun is made here: without any hand all is done, only later.
 */
export class SlabPool implements SlabRunner {
  private hands: SlabHand[] = [];
  private starts = 0;

  /** @param mostHands threads beside this one. */
  constructor(
    private readonly startThread: () => HandThread,
    private readonly mostHands: number,
  ) {}

  /** Starts the hands ahead of the work, since starting takes them a while. */
  wake(): void {
    this.hands = this.hands.filter((hand) => !hand.isLost);
    while (this.hands.length < this.mostHands && this.starts < MOST_STARTS + this.mostHands) {
      this.starts++;
      this.hands.push(new SlabHand(this.startThread()));
    }
  }

  dispose(): void {
    for (const hand of this.hands) hand.dispose();
    this.hands = [];
  }

  async run(
    source: BandSource,
    order: FieldOrder,
    slabs: readonly Slab[],
    cp: Checkpoint,
  ): Promise<readonly SlabField[]> {
    this.wake();
    const fields = new Array<SlabField>(slabs.length);
    const left = slabs.map((_, n) => n);
    let made = 0;
    let ownMs = 0;
    let waitsSince = 0;
    const keep = (n: number, field: SlabField): void => {
      fields[n] = field;
      made++;
    };
    // Hands take slabs from the end, this thread from the front.
    const share = async (hand: SlabHand): Promise<void> => {
      while (await hand.isReady()) {
        const n = left.pop();
        if (n === undefined) return;
        const field = await hand.build(source, order, slabs[n]);
        if (!field) {
          left.push(n);
          return;
        }
        keep(n, field);
      }
    };
    const shared = Promise.all(this.hands.map(share));
    try {
      while (made < slabs.length) {
        const n = left.shift();
        if (n === undefined) {
          waitsSince ||= performance.now();
          // One that was killed from outside says nothing.
          if (performance.now() - waitsSince > SLOW_FACTOR * ownMs + SLOW_MS) this.dispose();
          await Promise.race([shared, new Promise((resolve) => setTimeout(resolve, LOOK_MS))]);
          await cp.pause(made / slabs.length);
          continue;
        }
        const part = cp.within(made / slabs.length, (made + 1) / slabs.length, 'measuring distances');
        const from = performance.now();
        keep(n, await buildSlab(source, order, slabs[n], part));
        ownMs = Math.max(ownMs, performance.now() - from);
      }
    } catch (error) {
      left.length = 0;
      for (const hand of this.hands) hand.cancel();
      throw error;
    }
    return fields;
  }
}
