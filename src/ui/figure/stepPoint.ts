/** A point of a line, both by index. */
export interface PointPlace {
  readonly line: number;
  readonly point: number;
}

/**
 * The point after (or, with `by` -1, before) the one that is selected, through all lines and round again; with none
 * selected the first or last. Null when there are no points.
 * @param counts how many points each line has
 */
export function stepPoint(
  counts: readonly number[],
  selected: { readonly line: number; readonly point: number | null } | null,
  by: 1 | -1,
): PointPlace | null {
  const places = counts.flatMap((count, line) =>
    Array.from({ length: count }, (_, point) => ({ line, point })),
  );
  if (places.length === 0) return null;
  const at = places.findIndex(
    ({ line, point }) => line === selected?.line && point === (selected.point ?? 0),
  );
  // A line that is selected as a whole begins with its first point.
  if (at >= 0 && selected?.point === null) return places[at];
  const next = at < 0 ? (by > 0 ? 0 : places.length - 1) : at + by;
  return places[(next + places.length) % places.length];
}
