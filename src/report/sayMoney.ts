import { groupDigits } from '../core/units.ts';

/**
 * Money for people, to the cent: "1 234.50 EUR"; without a currency the bare figure. The currency is whatever the plan calls it;
 * nothing is converted.
 */
export function sayMoney(amount: number, currency: string): string {
  const figure = `${amount < 0 ? '\u2212' : ''}${groupDigits(Math.abs(amount).toFixed(2))}`;
  return currency === '' ? figure : `${figure}\u00a0${currency}`;
}
