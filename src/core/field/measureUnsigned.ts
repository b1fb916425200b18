import type { Checkpoint } from '../checkpoint.ts';
import type { BandGrid } from './BandGrid.ts';
import { measureBand } from './measureBand.ts';
import type { OrderedSurface } from './OrderedSurface.ts';
import { SAMPLE_REACH_CELLS, scatterSamples } from './scatterSamples.ts';
import { spreadSamples } from './spreadSamples.ts';

/** Distance, never negative, and nearest triangle of every cell within `reachMm` of a surface that has no inside. */
export async function measureUnsigned(
  grid: BandGrid,
  surface: OrderedSurface,
  reachMm: number,
  cp: Checkpoint,
): Promise<void> {
  const cloud = await scatterSamples(grid, surface, cp.within(0, 0.3, 'measuring distances'));
  const reachCells = reachMm / grid.cellMm + SAMPLE_REACH_CELLS;
  await spreadSamples(grid, cloud, reachCells, cp.within(0.3, 0.5, 'measuring distances'));
  await measureBand(grid, surface, cloud, reachMm, cp.within(0.5, 1, 'measuring distances'));
}
