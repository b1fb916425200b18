/** Digits of a percentage that are kept: a dose of a quarter percent of a percent is beyond any scale. */
const PERCENT_DIGITS = 4;

/** A share in percent as a number to type over, without the dust of binary fractions: 0.025 gives 2.5. */
export function percentOf(share: number): number {
  return Number((share * 100).toFixed(PERCENT_DIGITS));
}

/** A typed percentage as the share that was meant: 2.5 gives 0.025 exactly as JSON would read it. */
export function shareOfPercent(percent: number): number {
  return Number((percent / 100).toFixed(PERCENT_DIGITS + 2));
}

/** "2.5 %" */
export function sayPercent(share: number): string {
  return `${percentOf(share)}\u00a0%`;
}
