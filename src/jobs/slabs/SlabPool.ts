import type { Checkpoint } from '../../core/checkpoint.ts';
import type { BandSource } from '../../core/field/BandSource.ts';
import { buildSlab } from '../../core/field/slabs/buildSlab.ts';
import type { FieldOrder } from '../../core/field/slabs/FieldOrder.ts';
import type { Slab, SlabField } from '../../core/field/slabs/Slab.ts';
import type { SlabJob, SlabRunner } from '../../core/field/slabs/SlabRunner.ts';
import { SlabHand } from './SlabHand.ts';
import type { HandThread } from './slabMessages.ts';

/** Between two looks whether the job was cancelled, while only hands work. */
const LOOK_MS = 20;

/** A hand that takes so many times as long as this thread took for its own slab, and this long besides, is taken for lost. */
const SLOW_FACTOR = 4;
const SLOW_MS = 10_000;

/** The same where this thread has made none to tell by. */
const SLOW_ALONE_MS = 90_000;

/** Hands that were lost are replaced so often; a machine that kills them has no room for them. */
const MOST_STARTS = 3;

/**
 * This thread and its hands share the slabs of fields. A hand that is not ready yet takes none, and what a lost one had
 * begun is made here: without any hand all is done, only later. Hands do one job after the other, in the order in which they
 * were begun; what waits at a hand is taken back by this thread when it has nothing else to do.
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
      try {
        this.hands.push(new SlabHand(this.startThread()));
      } catch {
        // A page or a machine that allows no further thread: all is done here.
        return;
      }
    }
  }

  dispose(): void {
    for (const hand of this.hands) hand.dispose();
    this.hands = [];
  }

  begin(source: BandSource, order: FieldOrder, slabs: readonly Slab[]): SlabJob {
    this.wake();
    return new SharedJob(this.hands, source, order, slabs);
  }
}

/** The slabs of one field: hands take them from the end, this thread, once it finishes the job, from the front. */
class SharedJob implements SlabJob {
  private readonly fields: SlabField[];
  private readonly left: number[];
  /** What a hand could not make: no hand is asked again. */
  private readonly failed: number[] = [];
  /** What hands were asked for and have not brought. */
  private readonly ordered = new Map<number, { readonly hand: SlabHand; readonly id: number }>();
  private onBrought: () => void = () => {};
  private made = 0;

  constructor(
    hands: readonly SlabHand[],
    private readonly source: BandSource,
    private readonly order: FieldOrder,
    private readonly slabs: readonly Slab[],
  ) {
    this.fields = new Array<SlabField>(slabs.length);
    this.left = slabs.map((_, n) => n);
    for (const hand of hands) void hand.inTurn(() => this.share(hand));
  }

  get isMade(): boolean {
    return this.made === this.slabs.length;
  }

  async finish(cp: Checkpoint): Promise<readonly SlabField[]> {
    const { source, order, slabs, left, failed } = this;
    let ownMs = 0;
    let waitsSince = 0;
    try {
      // What was begun for the hands goes out before this thread is busy.
      await cp.pause(0);
      while (this.made < slabs.length) {
        const done = this.made / slabs.length;
        const n = left.shift() ?? failed.shift() ?? this.takeBack();
        if (n === undefined) {
          waitsSince ||= performance.now();
          // One that was killed from outside says nothing.
          const limitMs = ownMs > 0 ? SLOW_FACTOR * ownMs + SLOW_MS : SLOW_ALONE_MS;
          if (performance.now() - waitsSince > limitMs)
            for (const { hand } of [...this.ordered.values()]) hand.dispose();
          await this.brought();
          await cp.pause(done);
          continue;
        }
        const from = performance.now();
        const part = cp.within(done, done + 1 / slabs.length, 'measuring distances');
        this.keep(n, await buildSlab(source, order, slabs[n], part));
        ownMs = Math.max(ownMs, performance.now() - from);
      }
    } catch (error) {
      this.cancel();
      throw error;
    }
    return this.fields;
  }

  cancel(): void {
    if (this.isMade) return;
    this.left.length = 0;
    this.failed.length = 0;
    const ordered = [...this.ordered.values()];
    this.ordered.clear();
    for (const { hand, id } of ordered) hand.takeBack(id);
  }

  /** Orders of a hand what is left. */
  private async share(hand: SlabHand): Promise<void> {
    while (this.left.length > 0 && (await hand.isReady())) {
      const n = this.left.pop();
      if (n === undefined) return;
      const { id, field } = hand.order(this.source, this.order, this.slabs[n]);
      this.ordered.set(n, { hand, id });
      void field.then((made) => this.receive(n, id, made));
    }
  }

  private receive(n: number, id: number, field: SlabField | null): void {
    // Taken back meanwhile, or cancelled.
    if (this.ordered.get(n)?.id !== id) return;
    this.ordered.delete(n);
    if (field) this.keep(n, field);
    else this.failed.push(n);
    this.onBrought();
  }

  /** A slab that its hand has not begun; undefined when there is none. */
  private takeBack(): number | undefined {
    for (const [n, { hand, id }] of this.ordered) {
      if (!hand.isWaiting(id)) continue;
      this.ordered.delete(n);
      hand.takeBack(id);
      return n;
    }
    return undefined;
  }

  /** Settles when a hand has brought something or lost it, and now and then. */
  private brought(): Promise<void> {
    return new Promise((resolve) => {
      this.onBrought = resolve;
      setTimeout(resolve, LOOK_MS);
    });
  }

  private keep(n: number, field: SlabField): void {
    this.fields[n] = field;
    this.made++;
  }
}
