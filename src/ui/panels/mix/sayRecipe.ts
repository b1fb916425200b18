import type { Additive } from '../../../core/material/MaterialSystem.ts';

/** Trade words for a coat that holds an additive; the additive's own name says which. */
const PARTICIPLES: readonly (readonly [RegExp, string])[] = [
  [/thicken/i, 'thickened'],
  [/accelerat/i, 'accelerated'],
  [/retard/i, 'retarded'],
];

/** What a coat with this additive is called: "thickened"; "with pigment" where the trade has no word. */
export function sayWith(additiveName: string): string {
  return PARTICIPLES.find(([name]) => name.test(additiveName))?.[1] ?? `with ${additiveName}`;
}

/** What a dose is a share of: "of the liquid", "of the mix". */
export function sayBase({ base }: Pick<Additive, 'base'>): string {
  return base === 'mix' ? 'of the mix' : `of the ${base}`;
}
