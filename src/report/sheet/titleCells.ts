import type { PlanResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatBound, formatLength, formatMass, type UnitSystem } from '../../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../sayClock.ts';
import { sayMoney } from '../sayMoney.ts';
import type { SheetTitleCell } from './Sheet.ts';

/** The title block: what the sheet is of, and the figures that everybody asks for first. */
export function titleCells(plan: PlanDocument, result: PlanResult, system: UnitSystem): SheetTitleCell[] {
  const { shell, pieces, batches, day, cost } = result;
  const heaviest = pieces.reduce<(typeof pieces)[number] | null>(
    (most, piece) => (most === null || piece.massG > most.massG ? piece : most),
    null,
  );
  const coatCount = plan.coats.length;
  const open = batches.filter((batch) => batch.loggedG === null).length;
  return [
    {
      label: 'Shell, as laid up',
      text: formatMass(shell.massG, system),
      under: formatBound(shell.massErrorG, shell.massG, 'mass', system),
    },
    {
      label: 'Thickness',
      text: formatLength(shell.thicknessMm, system),
      under: `${coatCount} ${coatCount === 1 ? 'coat' : 'coats'}`,
    },
    {
      label: 'Heaviest piece',
      text: heaviest === null ? '\u2013' : formatMass(heaviest.massG, system),
      under: heaviest === null ? '' : `${heaviest.name}, ${formatMass(heaviest.dryMassG, system)} dry`,
    },
    {
      label: 'Batches',
      text: `${batches.length}`,
      under: open === batches.length ? 'none mixed yet' : `${batches.length - open} mixed, ${open} to go`,
    },
    {
      label: 'The work',
      text: `${day.days} ${day.days === 1 ? 'day' : 'days'}`,
      under: `hands on ${sayMinutes(day.attendedMin)}; done ${sayDay(day.endMin, day.startDate, system)}, ${sayClock(day.endMin, system)}`,
    },
    {
      label: 'To buy',
      text: cost.total === null ? 'no prices' : sayMoney(cost.total, cost.currency),
      under: cost.unpriced.length === 0 || cost.total === null ? '' : `without ${cost.unpriced.join(', ')}`,
    },
  ];
}
