/**
 * Place of the part with which the working time begins, from 0: the second component in the order in which they go in, since
 * additives alone set nothing off. Null where fewer than two components go in.
 */
export function findMeetingPart(items: readonly string[], componentNames: readonly string[]): number | null {
  const places = items.flatMap((item, n) => (componentNames.includes(item) ? [n] : []));
  return places[1] ?? null;
}
