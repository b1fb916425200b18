import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { SampleCloud } from './SampleCloud.ts';
import { SampleWave } from './SampleWave.ts';

/** Cells between two looks at the clock. */
const CHUNK = 4096;

/** Hands the scattered samples on to both sides of S, as far as `reachCells`. */
export async function spreadSamples(
  grid: BandGrid,
  cloud: SampleCloud,
  reachCells: number,
  cp: Checkpoint,
): Promise<void> {
  const wave = new SampleWave(grid, cloud, reachCells);
  const end = grid.brickCount * BRICK_CELLS;
  for (let cell = 0; cell < end; cell++) {
    if (grid.phi[cell] !== UNREACHED) wave.push(cell);
  }
  while (wave.advance(CHUNK)) {
    if (cp.due()) await cp.pause(wave.fraction());
  }
}
