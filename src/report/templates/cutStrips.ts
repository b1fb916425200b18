import type { FlatShim } from '../../core/shell/flattenShim.ts';

/** A stretch of a flat shim that fits a sheet of paper, turned so that it lies along it. */
export interface ShimStrip {
  /** From and to along the edge on the rubber, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  /** n x 2, mm, from the strip's own upper left corner, y downward: the edge on the rubber, and the outer one. */
  readonly inner: Float64Array;
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
  const n = end - from + 1;
  const dx = shim.inner[2 * end] - shim.inner[2 * from];
  const dy = shim.inner[2 * end + 1] - shim.inner[2 * from + 1];
  const chord = Math.hypot(dx, dy);
  const [c, s] = chord > 0 ? [dx / chord, dy / chord] : [1, 0];
  const inner = new Float64Array(2 * n);
  const outer = new Float64Array(2 * n);
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  const put = (out: Float64Array, i: number, x: number, y: number): void => {
    // Turned along the chord, and y downward, as paper has it.
    out[2 * i] = c * x + s * y;
    out[2 * i + 1] = s * x - c * y;
    left = Math.min(left, out[2 * i]);
    right = Math.max(right, out[2 * i]);
    top = Math.min(top, out[2 * i + 1]);
    bottom = Math.max(bottom, out[2 * i + 1]);
  };
  for (let i = 0; i < n; i++) {
    put(inner, i, shim.inner[2 * (from + i)], shim.inner[2 * (from + i) + 1]);
    put(outer, i, shim.outer[2 * (from + i)], shim.outer[2 * (from + i) + 1]);
  }
  for (const edge of [inner, outer]) {
    for (let i = 0; i < n; i++) {
      edge[2 * i] -= left;
      edge[2 * i + 1] -= top;
    }
  }
  const at = (edge: Float64Array, i: number): readonly [number, number] => [edge[2 * i], edge[2 * i + 1]];
  const snips: (readonly [number, number])[] = [];
  for (let i = 0; i + 1 < n; i++) {
    if (Math.abs(shim.strain[from + i]) < SNIP_STRAIN) continue;
    const place = at(outer, i);
    const last = snips.at(-1);
    if (!last || Math.hypot(place[0] - last[0], place[1] - last[1]) >= SNIP_SPACING_MM) snips.push(place);
  }
  return {
    fromMm: shim.alongMm[from],
    toMm: shim.alongMm[to],
    inner,
    outer,
    snips,
    seam: end > to ? [at(inner, to - from), at(outer, to - from)] : null,
    widthMm: right - left,
    heightMm: bottom - top,
  };
}
