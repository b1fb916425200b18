/** A price for people: "34.50 EUR". The currency is whatever the plan calls it; nothing is converted. */
export function sayMoney(amount: number, currency: string): string {
  const [whole, cents] = Math.abs(amount).toFixed(2).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, '\u202f');
  return `${amount < 0 ? '\u2212' : ''}${grouped}.${cents} ${currency}`.trim();
}
