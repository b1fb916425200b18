import type { PlanResult } from '../../core/PlanResult.ts';
import { formatMass, type UnitSystem } from '../../core/units.ts';
import { CARRY_WORDS } from '../carryWords.ts';
import { readSaid } from '../readSaid.ts';
import type { CautionPile } from './CautionPile.ts';
import type { SheetPart, SheetSection } from './Sheet.ts';
import { cell, column, row, table } from './sheetParts.ts';

/** What is lifted, and by whom. */
export function liftingSection(
  { handling }: PlanResult,
  system: UnitSystem,
  cautions: CautionPile,
): SheetSection {
  const beside = cautions.take('Lifting');
  const parts: SheetPart[] = beside.length > 0 ? [{ kind: 'cautions', lines: beside }] : [];
  // What one person lifts is told the same way each time: in full for the hardest of those alone.
  const hardest = handling
    .filter((lift) => lift.carry === 'one')
    .reduce<(typeof handling)[number] | null>(
      (most, lift) => ((lift.liftingIndex ?? 0) > (most?.liftingIndex ?? -1) ? lift : most),
      null,
    );
  parts.push(
    table(
      [
        column('What'),
        column('Mass', 'number'),
        column('Limit for one', 'number'),
        column('Lifting index', 'number'),
        column('Lift', 'number'),
      ],
      handling.map((lift) =>
        row([
          cell(lift.what, lift.carry === 'one' && lift !== hardest ? '' : readSaid(lift, 'advice', system)),
          formatMass(lift.massKg * 1000, system),
          lift.limitKg > 0 ? formatMass(lift.limitKg * 1000, system) : 'out of reach',
          lift.liftingIndex === null ? '\u2013' : lift.liftingIndex.toFixed(2),
          CARRY_WORDS[lift.carry],
        ]),
      ),
    ),
  );
  return { id: 'lifting', title: 'In the hand', parts };
}
