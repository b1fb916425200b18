import type { FlatShim } from '../../core/shell/flattenShim.ts';

/** A stretch of a flat shim that fits a sheet of paper, turned so that it lies along it. */
export interface ShimStrip {
  /** From and to along the edge on the rubber, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  /** n x 2, mm, from the strip's own upper left corner, y downward: the edge on the rubber. */
  readonly inner: Float64Array;
  /** m x 2, likewise: the outer edge, m <= n, since over a hollow it is shorter. */
  readonly outer: Float64Array;
  /** Places on the outer edge to snip, mm. */
  readonly snips: readonly (readonly [number, number])[];
  /** Where the cut of this strip ends and the overlap with the next begins: on the inner and the outer edge; null at the last strip. */
  readonly seam: readonly [readonly [number, number], readonly [number, number]] | null;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Stretching of the outer edge from which on a sheet of metal must be snipped to lie: GEOMETRY of thin sheet, own choice. */
export const SNIP_STRAIN = 0.005;
/** No two snips closer than this along the outer edge, mm. */
const SNIP_SPACING_MM = 15;

/**
 * The shim cut into strips of at most `mostMm` of line whose box, turned along its chord, is within width x height; each goes on
 * `overlapMm` over the next. A strip always takes at least one ruling on, however wide.
 */
export function cutStrips(
  shim: FlatShim,
  { mostMm, overlapMm, widthMm, heightMm }: StripLimits,
): ShimStrip[] {
  const count = shim.alongMm.length;
  const strips: ShimStrip[] = [];
  let from = 0;
  while (from < count - 1) {
    let to = from + 1;
    let strip = layStrip(shim, from, to, to);
    for (let next = to + 1; next < count; next++) {
      if (shim.alongMm[next] - shim.alongMm[from] > mostMm) break;
      const tried = layStrip(shim, from, next, withOverlap(shim, next, overlapMm));
      if (tried.widthMm > widthMm || tried.heightMm > heightMm) break;
      to = next;
      strip = tried;
    }
    strips.push(strip);
    from = to;
  }
  return strips;
}

export interface StripLimits {
  readonly mostMm: number;
  readonly overlapMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Number of the ruling to which the strip that is cut at `to` goes on. */
function withOverlap({ alongMm }: FlatShim, to: number, overlapMm: number): number {
  let end = to;
  while (end + 1 < alongMm.length && alongMm[end] - alongMm[to] < overlapMm) end++;
  return end;
}

function layStrip(shim: FlatShim, from: number, to: number, end: number): ShimStrip {
  const dx = shim.inner[2 * end] - shim.inner[2 * from];
  const dy = shim.inner[2 * end + 1] - shim.inner[2 * from + 1];
  const chord = Math.hypot(dx, dy);
  const [c, s] = chord > 0 ? [dx / chord, dy / chord] : [1, 0];
  // Turned along the chord, and y downward, as paper has it.
  const turn = (edge: Float64Array, p: number): readonly [number, number] => [
    c * edge[2 * p] + s * edge[2 * p + 1],
    s * edge[2 * p] - c * edge[2 * p + 1],
  ];
  const kept: number[] = [];
  for (let p = from; p <= end; p++) {
    // Its ends are cut along their rulings, whatever lies near.
    if (shim.isKept[p] || p === from || p === end) kept.push(p);
  }
  const innerPoints = Array.from({ length: end - from + 1 }, (_, n) => turn(shim.inner, from + n));
  const outerPoints = kept.map((p) => turn(shim.outer, p));
  const all = [...innerPoints, ...outerPoints];
  const left = Math.min(...all.map(([x]) => x));
  const top = Math.min(...all.map(([, y]) => y));
  const place = ([x, y]: readonly [number, number]): readonly [number, number] => [x - left, y - top];
  const snips: (readonly [number, number])[] = [];
  for (const p of kept) {
    if (p >= shim.strain.length || Math.abs(shim.strain[p]) < SNIP_STRAIN) continue;
    const at = place(turn(shim.outer, p));
    const last = snips.at(-1);
    if (!last || Math.hypot(at[0] - last[0], at[1] - last[1]) >= SNIP_SPACING_MM) snips.push(at);
  }
  return {
    fromMm: shim.alongMm[from],
    toMm: shim.alongMm[to],
    inner: Float64Array.from(innerPoints.flatMap(place)),
    outer: Float64Array.from(outerPoints.flatMap(place)),
    snips,
    seam: end > to ? [place(turn(shim.inner, to)), place(turn(shim.outer, to))] : null,
    widthMm: Math.max(...all.map(([x]) => x)) - left,
    heightMm: Math.max(...all.map(([, y]) => y)) - top,
  };
}
