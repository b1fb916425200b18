import type { PlanResult, ShoppingItem } from '../../core/PlanResult.ts';
import { formatMass, type UnitSystem } from '../../core/units.ts';
import { readSaid } from '../readSaid.ts';
import { sayMoney } from '../sayMoney.ts';
import type { SheetSection } from './Sheet.ts';
import { cell, column, row, table } from './sheetParts.ts';

/** What to buy, with a box to tick for each. */
export function buySection({ shopping, cost }: PlanResult, system: UnitSystem): SheetSection {
  const rows = shopping.map((item) =>
    row([
      '',
      cell(item.item, readSaid(item, 'say', system)),
      sayNeed(item, system),
      item.inStockG > 0 ? formatMass(item.inStockG, system) : '\u2013',
      sayPacks(item, system),
      item.leftG === null ? '' : sayAmount(item, item.leftG, system),
      item.cost === null ? 'no price' : sayMoney(item.cost, cost.currency),
    ]),
  );
  if (cost.total !== null) {
    const without = cost.unpriced.length > 0 ? `without ${cost.unpriced.join(', ')}` : '';
    rows.push(
      row(['', cell('Together', without), '', '', '', '', sayMoney(cost.total, cost.currency)], 'total'),
    );
  }
  return {
    id: 'to-buy',
    title: 'To buy',
    parts: [
      table(
        [
          column('', 'tick'),
          column('Item'),
          column('Needed', 'number'),
          column('In stock', 'number'),
          column('Packs', 'number'),
          column('Left over', 'number'),
          column('Cost', 'number'),
        ],
        rows,
      ),
    ],
  };
}

function sayNeed(item: ShoppingItem, system: UnitSystem): string {
  return item.neededG === null ? `${item.neededCount ?? '\u2013'}` : formatMass(item.neededG, system);
}

/** Masses in units, counts bare. */
function sayAmount(item: ShoppingItem, amount: number, system: UnitSystem): string {
  return item.neededG === null ? `${amount}` : formatMass(amount, system);
}

function sayPacks(item: ShoppingItem, system: UnitSystem): string {
  const { packs, packG, morePacks } = item;
  if (packs === null || packG === null) return 'by need';
  return [{ packs, packG }, ...(morePacks ?? [])]
    .map((one) => `${one.packs} of ${sayAmount(item, one.packG, system)}`)
    .join(', ');
}
