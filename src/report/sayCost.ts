/** Money for people, to the cent: "184.20 EUR"; without a currency the bare figure. */
export function sayCost(amount: number, currency: string): string {
  return `${amount.toFixed(2)}${currency === '' ? '' : `\u00a0${currency}`}`;
}
