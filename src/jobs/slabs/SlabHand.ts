import type { BandSource } from '../../core/field/BandSource.ts';
import type { FieldOrder } from '../../core/field/slabs/FieldOrder.ts';
import type { Slab, SlabField } from '../../core/field/slabs/Slab.ts';
import type { FromHand, HandThread } from './slabMessages.ts';

/** One hand as its pool sees it. It is told of a surface once. */
export class SlabHand {
  isLost = false;
  private readonly ready: Promise<boolean>;
  private answerReady: (isReady: boolean) => void = () => {};
  private readonly waiting = new Map<number, (field: SlabField | null) => void>();
  private nextId = 1;
  private source: BandSource | undefined;
  private turn: Promise<void> = Promise.resolve();

  constructor(private readonly thread: HandThread) {
    this.ready = new Promise((resolve) => {
      this.answerReady = resolve;
    });
    thread.onmessage = (message) => this.receive(message);
    thread.onlost = () => this.lose();
  }

  /** Waits until it has started; false when it is lost. */
  async isReady(): Promise<boolean> {
    return (await this.ready) && !this.isLost;
  }

  /** Jobs have it one after the other. */
  inTurn(work: () => Promise<void>): Promise<void> {
    this.turn = this.turn.then(work);
    return this.turn;
  }

  /** Null: it was lost, cancelled, or could not. */
  build(source: BandSource, order: FieldOrder, slab: Slab): Promise<SlabField | null> {
    if (this.isLost) return Promise.resolve(null);
    if (this.source !== source) {
      const { mesh, twins, isSurface, standsOnBoard } = source;
      this.thread.postMessage({ kind: 'surface', surface: { mesh, twins, isSurface, standsOnBoard } });
      this.source = source;
    }
    const id = this.nextId++;
    const answer = new Promise<SlabField | null>((resolve) => this.waiting.set(id, resolve));
    this.thread.postMessage({ kind: 'slab', id, order, slab });
    return answer;
  }

  cancel(): void {
    for (const [id, answer] of this.waiting) {
      this.thread.postMessage({ kind: 'cancel', id });
      answer(null);
    }
    this.waiting.clear();
  }

  dispose(): void {
    this.thread.terminate();
    this.lose();
  }

  private receive(message: FromHand): void {
    if (message.kind === 'ready') {
      this.answerReady(true);
      return;
    }
    const answer = this.waiting.get(message.id);
    this.waiting.delete(message.id);
    answer?.(message.kind === 'done' ? message.field : null);
  }

  private lose(): void {
    this.isLost = true;
    this.answerReady(false);
    for (const answer of this.waiting.values()) answer(null);
    this.waiting.clear();
  }
}
