import type { Checkpoint } from '../../checkpoint.ts';
import type { BandSource } from '../BandSource.ts';
import { buildSlab } from './buildSlab.ts';
import type { FieldOrder } from './FieldOrder.ts';
import type { Slab, SlabField } from './Slab.ts';

/** Makes the slabs of fields, by whoever can help. */
export interface SlabRunner {
  /** A large field will soon be asked for: hands that take a while to start may do so. */
  wake?(): void;
  /** Other hands may begin at once; this thread does its part when the job is finished. */
  begin(source: BandSource, order: FieldOrder, slabs: readonly Slab[]): SlabJob;
}

export interface SlabJob {
  /** All is made: to finish it takes no time. */
  readonly isMade: boolean;
  /** The slabs in their order. Not to be called twice. */
  finish(cp: Checkpoint): Promise<readonly SlabField[]>;
  /** Lets go of what is not made yet; after `finish` it does nothing. */
  cancel(): void;
}

/** One slab after the other, here. */
export const SINGLE_RUNNER: SlabRunner = {
  begin: (source, order, slabs) => ({
    isMade: false,
    async finish(cp) {
      const fields: SlabField[] = [];
      for (let n = 0; n < slabs.length; n++) {
        const part = cp.within(n / slabs.length, (n + 1) / slabs.length, 'measuring distances');
        fields.push(await buildSlab(source, order, slabs[n], part));
      }
      return fields;
    },
    cancel() {},
  }),
};
