import { PlanError } from '../errors.ts';

/** Cells to the thinnest coat: with fewer the plane cut at sharp ridges is off by parts in a thousand (own trials). */
const CELLS_PER_THINNEST_COAT = 1.5;

/** Cells to the whole shell at the least, where a single thick coat would allow very coarse ones. */
const CELLS_PER_SHELL = 6;

/** Most cells of the fine field: about 2-4 s and 100 MB. Own choice, for a page on a laptop. */
const MOST_CELLS = 3.5e6;

/** Cell edges worth telling apart, mm: each sqrt(2) of the one before, so that small changes of a coat keep the field. */
const LADDER_MM = [
  0.05, 0.07, 0.1, 0.14, 0.2, 0.28, 0.4, 0.56, 0.8, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32,
];

/**
 * Edge of the fine field's cells, mm: fine enough for the thinnest coat, coarse enough that the band fits the budget.
 * The error bound, not this choice, answers for the numbers.
 */
export function chooseCellMm(
  thinnestCoatMm: number,
  shellMm: number,
  areaMm2: number,
  bandMm: number,
): number {
  const wanted = Math.min(thinnestCoatMm / CELLS_PER_THINNEST_COAT, shellMm / CELLS_PER_SHELL);
  const finest = LADDER_MM.findLast((h) => h <= wanted) ?? LADDER_MM[0];
  const start = LADDER_MM.indexOf(finest);
  for (const h of LADDER_MM.slice(start)) {
    if (estimateCells(areaMm2, bandMm, h) <= MOST_CELLS) return h;
  }
  return LADDER_MM[LADDER_MM.length - 1];
}

/** The wanted edge, or the finest above it whose band fits the budget: a very thin flange must not take all memory. */
export function affordCellMm(wantedMm: number, areaMm2: number, bandMm: number): number {
  let cellMm = wantedMm;
  while (estimateCells(areaMm2, bandMm, cellMm) > MOST_CELLS) cellMm *= 1.1;
  return cellMm;
}

/** Most cells that are tried at all: about 1 GB with the tables. */
const MOST_CELLS_HELD = 4e7;

/** Throws PlanError 'too-fine' with the finest edge that would do, when a field with this edge could not be held. */
export function checkCellMm(cellMm: number, areaMm2: number, bandMm: number): void {
  if (!(cellMm > 0 && Number.isFinite(cellMm))) {
    throw new PlanError(
      'bad-plan',
      `A resolution of ${cellMm} mm is no length. Give one above 0, or leave it out.`,
      'resolutionMm',
    );
  }
  if (estimateCells(areaMm2, bandMm, cellMm) <= MOST_CELLS_HELD) return;
  let finest = cellMm;
  while (estimateCells(areaMm2, bandMm, finest) > MOST_CELLS_HELD) finest *= 1.05;
  // Rounded up to two digits, so that what is told does.
  const digit = 10 ** (Math.floor(Math.log10(finest)) - 1);
  const told = Number((Math.ceil(finest / digit) * digit).toPrecision(2));
  throw new PlanError(
    'too-fine',
    `A resolution of ${cellMm} mm over this scan would need more cells than can be held. Choose ${told} mm or coarser, or check the unit of the scan.`,
    'resolutionMm',
  );
}

/** Cells of a band to one side of a surface, with the layer of cells that the surface itself passes. */
export function estimateCells(areaMm2: number, bandMm: number, cellMm: number): number {
  return (areaMm2 * (bandMm + 2 * cellMm)) / cellMm ** 3;
}
