import type { Checkpoint } from '../../checkpoint.ts';
import type { BandSource } from '../BandSource.ts';
import { buildSlab } from './buildSlab.ts';
import type { FieldOrder } from './FieldOrder.ts';
import type { Slab, SlabField } from './Slab.ts';

/** Makes the slabs of a field, by whoever can help. The answers come in the order of the slabs. */
export interface SlabRunner {
  /** A large field will soon be asked for: hands that take a while to start may do so. */
  wake?(): void;
  run(
    source: BandSource,
    order: FieldOrder,
    slabs: readonly Slab[],
    cp: Checkpoint,
  ): Promise<readonly SlabField[]>;
}

/** One slab after the other, here. */
export const SINGLE_RUNNER: SlabRunner = {
  async run(source, order, slabs, cp) {
    const fields: SlabField[] = [];
    for (let n = 0; n < slabs.length; n++) {
      const part = cp.within(n / slabs.length, (n + 1) / slabs.length, 'measuring distances');
      fields.push(await buildSlab(source, order, slabs[n], part));
    }
    return fields;
  },
};
