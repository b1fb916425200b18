import type { BandSource } from '../../core/field/BandSource.ts';
import type { FieldOrder } from '../../core/field/slabs/FieldOrder.ts';
import type { Slab, SlabField } from '../../core/field/slabs/Slab.ts';
import type { FromHand, HandThread } from './slabMessages.ts';

/** Slabs that are ordered of a hand at once: the one it makes, and one that it goes on with before its pool has looked. */
const ORDERED_AHEAD = 2;

/** A slab that a hand was asked for. */
export interface SlabTicket {
  readonly id: number;
  /** Null: it was lost, taken back, or could not be made. */
  readonly field: Promise<SlabField | null>;
}

/** One hand as its pool sees it. It is told of a surface once. */
export class SlabHand {
  isLost = false;
  private readonly ready: Promise<boolean>;
  private answerReady: (isReady: boolean) => void = () => {};
  private readonly waiting = new Map<number, (field: SlabField | null) => void>();
  private readonly onRoom: (() => void)[] = [];
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

  /** Waits until it has started and takes another slab; false when it is lost. */
  async isReady(): Promise<boolean> {
    await this.ready;
    while (this.waiting.size >= ORDERED_AHEAD)
      await new Promise<void>((resolve) => this.onRoom.push(resolve));
    return !this.isLost;
  }

  /** Jobs order of it one after the other. */
  inTurn(work: () => Promise<void>): Promise<void> {
    this.turn = this.turn.then(work);
    return this.turn;
  }

  order(source: BandSource, order: FieldOrder, slab: Slab): SlabTicket {
    const id = this.nextId++;
    if (this.isLost) return { id, field: Promise.resolve(null) };
    const field = new Promise<SlabField | null>((resolve) => this.waiting.set(id, resolve));
    try {
      if (this.source !== source) {
        const { mesh, twins, isSurface, standsOnBoard } = source;
        this.thread.postMessage({ kind: 'surface', surface: { mesh, twins, isSurface, standsOnBoard } });
        this.source = source;
      }
      this.thread.postMessage({ kind: 'slab', id, order, slab });
    } catch {
      // No memory for a copy: without the hand the slab is made by whoever asked, and says there what is wrong.
      this.dispose();
    }
    return { id, field };
  }

  /** Whether a slab waits for another one to be made first. */
  isWaiting(id: number): boolean {
    const [first] = this.waiting.keys();
    return first !== id && this.waiting.has(id);
  }

  takeBack(id: number): void {
    if (!this.waiting.has(id)) return;
    this.thread.postMessage({ kind: 'cancel', id });
    this.answer(id, null);
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
    this.answer(message.id, message.kind === 'done' ? message.field : null);
  }

  private answer(id: number, field: SlabField | null): void {
    this.waiting.get(id)?.(field);
    this.waiting.delete(id);
    for (const resume of this.onRoom.splice(0)) resume();
  }

  private lose(): void {
    this.isLost = true;
    this.answerReady(false);
    for (const id of [...this.waiting.keys()]) this.answer(id, null);
  }
}
