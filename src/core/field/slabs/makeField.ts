import type { Checkpoint } from '../../checkpoint.ts';
import { BandGrid, BRICK_CELLS } from '../BandGrid.ts';
import type { BandSource } from '../BandSource.ts';
import { buildBandField, frameBand } from '../buildBandField.ts';
import { TABLE_WIDTH } from '../CoatTable.ts';
import { type BrickTables, tabulateBricks } from '../tabulateBricks.ts';
import { cutIntoSlabs } from './cutIntoSlabs.ts';
import type { FieldOrder } from './FieldOrder.ts';
import type { SlabField } from './Slab.ts';
import type { SlabRunner } from './SlabRunner.ts';

/** A distance field with its volume tables. */
export interface IntegratedField {
  readonly grid: BandGrid;
  readonly tables: BrickTables;
}

/** A field that is being made. */
export interface FieldJob {
  /** To finish it takes next to no time. */
  isMade(): boolean;
  /** @throws PlanError 'too-fine', as `buildBandField`. Not to be called twice. */
  finish(cp: Checkpoint): Promise<IntegratedField>;
  /** Lets go of what is not made yet; after `finish` it does nothing. */
  cancel(): void;
}

/** The field of a source, in slabs where that pays. */
export function makeField(
  source: BandSource,
  order: FieldOrder,
  runner: SlabRunner,
  cp: Checkpoint,
): Promise<IntegratedField> {
  return beginField(source, order, runner).finish(cp);
}

/** As `makeField`, but other hands may work on it while this thread does something else before it finishes. */
export function beginField(source: BandSource, order: FieldOrder, runner: SlabRunner): FieldJob {
  const slabs = cutIntoSlabs(source, order);
  if (slabs.length === 1) {
    return { isMade: () => false, finish: (cp) => makeWhole(source, order, cp), cancel() {} };
  }
  const job = runner.begin(source, order, slabs);
  return {
    isMade: () => job.isMade,
    finish: async (cp) => joinSlabs(source, order, await job.finish(cp)),
    cancel: () => job.cancel(),
  };
}

async function makeWhole(source: BandSource, order: FieldOrder, cp: Checkpoint): Promise<IntegratedField> {
  const { cellMm, bandMm, isClosed, knotMm, knotCount } = order;
  const distances = cp.within(0, 0.7, 'measuring distances');
  const grid = await buildBandField(source, cellMm, bandMm, isClosed, distances);
  const coats = cp.within(0.7, 1, 'measuring the coats');
  return { grid, tables: await tabulateBricks(grid, source, knotMm, knotCount, coats) };
}

/** Slabs beside one another, as one field. */
function joinSlabs(source: BandSource, order: FieldOrder, slabs: readonly SlabField[]): IntegratedField {
  const { cellMm, bandMm, knotMm, knotCount } = order;
  const { origin, cells } = frameBand(source, cellMm, bandMm);
  const grid = new BandGrid(origin, cellMm, cells);
  const brickCount = slabs.reduce((sum, { corners }) => sum + corners.length / 3, 0);
  grid.reserve(brickCount);
  const rows = new Float64Array(brickCount * knotCount * TABLE_WIDTH);
  let filled = 0;
  for (const slab of slabs) {
    const { corners, phi, tri } = slab;
    for (let brick = 0; 3 * brick < corners.length; brick++) {
      const at = 3 * brick;
      grid.addFilled(corners[at], corners[at + 1], corners[at + 2], phi, tri, brick * BRICK_CELLS);
    }
    rows.set(slab.rows, filled);
    filled += slab.rows.length;
  }
  return { grid, tables: { knotMm, knotCount, rows } };
}
