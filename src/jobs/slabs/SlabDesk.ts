import { Checkpoint } from '../../core/checkpoint.ts';
import { type BandSource, makeBandSource } from '../../core/field/BandSource.ts';
import { buildSlab } from '../../core/field/slabs/buildSlab.ts';
import type { FromHand, ToHand } from './slabMessages.ts';

/** The hand's side: keeps one surface and makes slabs of its fields, one after the other. Same for page and command. */
export class SlabDesk {
  private source: BandSource | undefined;
  private readonly aborts = new Map<number, AbortController>();
  private queue: Promise<void> = Promise.resolve();

  constructor(private readonly send: (message: FromHand, transfer: ArrayBuffer[]) => void) {
    send({ kind: 'ready' }, []);
  }

  receive(message: ToHand): void {
    switch (message.kind) {
      case 'surface':
        this.source = makeBandSource(message.surface);
        return;
      case 'cancel':
        this.aborts.get(message.id)?.abort();
        return;
      case 'slab': {
        const { source } = this;
        const abort = new AbortController();
        this.aborts.set(message.id, abort);
        this.queue = this.queue.then(() => this.make(message, source, abort.signal));
      }
    }
  }

  private async make(
    { id, order, slab }: Extract<ToHand, { kind: 'slab' }>,
    source: BandSource | undefined,
    signal: AbortSignal,
  ): Promise<void> {
    try {
      if (!source) throw new Error('no surface was sent');
      signal.throwIfAborted();
      const field = await buildSlab(source, order, slab, new Checkpoint(() => {}, signal));
      const { corners, phi, tri, rows } = field;
      this.send(
        { kind: 'done', id, field },
        [corners, phi, tri, rows].map((array) => array.buffer as ArrayBuffer),
      );
    } catch (error) {
      if (!signal.aborted) this.send({ kind: 'failed', id, why: String(error) }, []);
    } finally {
      this.aborts.delete(id);
    }
  }
}
