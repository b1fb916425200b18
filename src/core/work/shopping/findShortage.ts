import type { WorkNote } from '../../PlanResult.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatMass } from '../../units.ts';
import type { MixUse } from './listUses.ts';
import type { PartToBuy } from './partsToBuy.ts';

/**
 * Notes 'short-of-stock': of every part that the stock list names, the coat at which it runs out when the batches are
 * mixed in their order, and how much is missing in all. What the list does not name is bought anyway and has no note.
 */
export function findShortage(
  uses: readonly MixUse[],
  parts: readonly PartToBuy[],
  names: ReadonlyMap<string, string>,
  stockG: ReadonlyMap<string, number>,
): WorkNote[] {
  const notes: WorkNote[] = [];
  for (const part of parts) {
    const inStockG = stockG.get(part.key);
    if (inStockG === undefined) continue;
    let takenG = 0;
    let short: MixUse | null = null;
    for (const use of uses) {
      takenG += (use.massByKeyG.get(part.key) ?? 0) * part.boughtShare;
      if (short === null && takenG > inStockG * (1 + ROUNDING)) short = use;
    }
    if (short === null) continue;
    const { work } = short;
    const missingG = takenG - inStockG;
    notes.push({
      code: 'short-of-stock',
      piece: work.piece,
      coat: work.coat,
      ...sayBoth(
        'text',
        (system) =>
          `You will run short of ${names.get(part.key)} at coat ${work.coat + 1} (${work.name}) of ${work.pieceName}: ${formatMass(inStockG, system)} in stock, ${formatMass(missingG, system)} more is needed for the whole shell.`,
      ),
    });
  }
  return notes;
}

/** Of a stock that is taken to the last gram. */
const ROUNDING = 1e-9;
