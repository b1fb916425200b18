/** A share as people read it: 0.025 is "2.5 %". Four figures, no trailing zeros. */
export function sayShare(share: number): string {
  return `${Number((share * 100).toPrecision(4))} %`;
}
