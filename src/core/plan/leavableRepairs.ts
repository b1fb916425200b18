/**
 * Codes of the repairs of a scan that the user may have left undone: those that take something away, add something or move
 * something, and without which there is still a surface with an outside. The others (welding, turning, parting ...) are what
 * makes one surface of the file's faces; without them no coat has a side to lie on.
 */
export const LEAVABLE_REPAIRS = [
  'crumbs-dropped',
  'flakes-dropped',
  'inner-parts-dropped',
  'holes-filled',
  'base-levelled',
  'skirt-added',
  'table-cut-away',
  'cut-closed',
] as const;
export type LeavableRepair = (typeof LEAVABLE_REPAIRS)[number];

/** What a note's and a mark's code starts with where the repair was left undone: 'left-crumbs-dropped'. */
const LEFT = 'left-';

/** The repair that a code speaks of, done or left, or null where it is none that can be left. */
export function leavableOf(
  code: string,
): { readonly repair: LeavableRepair; readonly isLeft: boolean } | null {
  const isLeft = code.startsWith(LEFT);
  const name = isLeft ? code.slice(LEFT.length) : code;
  const repair = LEAVABLE_REPAIRS.find((one) => one === name);
  return repair === undefined ? null : { repair, isLeft };
}

export function leftCode(repair: LeavableRepair): `left-${LeavableRepair}` {
  return `${LEFT}${repair}`;
}
