import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { contourCells, type LookSurface } from '../field/contourPieces.ts';
import type { PartingWall } from './buildWall.ts';
import { flangeCells } from './flangeCells.ts';
import type { CutSurface } from './types.ts';

/**
 * The flange of every region, from `fromMm` to `toMm` above the rubber, as closed surfaces good for looking at: contoured
 * from the distances to wall and rubber, so that it holds together where the line bends sharply. Edges come out rounded
 * by about a cell of `far`.
 */
export async function contourFlange(
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  cut: CutSurface,
  thicknessMm: number,
  fromMm: number,
  toMm: number,
  cp: Checkpoint,
): Promise<LookSurface[]> {
  const { grid, rubberMm, besideMm } = await flangeCells(
    source,
    far,
    wall,
    cut,
    thicknessMm,
    cp.within(0, 0.6, 'drawing the flange'),
  );
  const out: LookSurface[] = [];
  for (let region = 0; region < cut.regionCount; region++) {
    const inRegion = (cell: number): number => {
      const mm = rubberMm[cell];
      if (mm === UNREACHED) return UNREACHED;
      const beside = besideMm(cell, region);
      return Math.max(fromMm - mm, mm - toMm, beside - thicknessMm, -beside);
    };
    const phase = cp.within(
      0.6 + (0.4 * region) / cut.regionCount,
      0.6 + (0.4 * (region + 1)) / cut.regionCount,
      'drawing the flange',
    );
    out.push(await contourCells(grid, source.standsOnBoard, inRegion, phase));
  }
  return out;
}
