import type { Rulings } from '../parting/layRulings.ts';

/** A shim unrolled flat. Lengths in mm; the edge on the rubber runs along x at its start, the sheet on its left. */
export interface FlatShim {
  /** n x 2: the edge on the rubber. */
  readonly inner: Float64Array;
  /** n x 2: the outer edge above each ruling's foot. */
  readonly outer: Float64Array;
  /** n: 1 where the outer point bounds the sheet; 0 where it would lie nearer to another part of the rubber, as over a hollow. */
  readonly isKept: Uint8Array;
  /** n: length along the edge on the rubber up to each ruling. */
  readonly alongMm: Float64Array;
  /** n - 1: by how much the sheet's outer edge is too short (positive) or too long there once it is bent on, share; 0 beside points not kept. */
  readonly strain: Float64Array;
  /** Largest of them, without its sign. */
  readonly worstStrain: number;
}

/** An outer point may stand this much of the width nearer to the rubber than the width before it is dropped: rounding. */
const NEARER_SHARE = 1e-3;

/**
 * The strip of sheet that stands on a line along the rubber's normals, laid flat: its edge on the rubber bends in the flat by
 * the line's curvature towards the normal, its outer edge is that edge's offset by the width, trimmed where it would run
 * into itself. It fits without stretching where the surface does not twist along the line; elsewhere the outer edge differs
 * by half the square of width times twist, which `strain` tells: the sheet is then snipped from its outer edge.
 *
 * Source: Darboux frame of a curve on a surface; Pottmann and Wallner, Computational Line Geometry, 2001.
 * Cost: O(n) and the pairs of points within three widths of line.
 * @param widthMm from the rubber to the sheet's outer edge.
 */
export function flattenShim({ feet, normals }: Rulings, widthMm: number): FlatShim {
  const count = feet.length / 3;
  const inner = new Float64Array(2 * count);
  const outer = new Float64Array(2 * count);
  const alongMm = new Float64Array(count);
  const headings = new Float64Array(Math.max(0, count - 1));
  const before = new Float64Array(3);
  const ahead = new Float64Array(3);
  for (let p = 0; p + 1 < count; p++) {
    writeEdge(feet, p, ahead);
    const length = Math.hypot(ahead[0], ahead[1], ahead[2]);
    alongMm[p + 1] = alongMm[p] + length;
    if (p > 0) headings[p] = headings[p - 1] + turnTowards(before, ahead, normals, p);
    inner[2 * p + 2] = inner[2 * p] + length * Math.cos(headings[p]);
    inner[2 * p + 3] = inner[2 * p + 1] + length * Math.sin(headings[p]);
    before.set(ahead);
  }
  for (let p = 0; p < count; p++) {
    const heading = headingAt(headings, p);
    outer[2 * p] = inner[2 * p] - widthMm * Math.sin(heading);
    outer[2 * p + 1] = inner[2 * p + 1] + widthMm * Math.cos(heading);
  }
  const isKept = keepOffset(inner, outer, alongMm, widthMm);
  const strain = strainOf(feet, normals, outer, isKept, widthMm);
  return { inner, outer, isKept, alongMm, strain, worstStrain: Math.max(0, ...strain.map(Math.abs)) };
}

/** Heading of the line at point p: the mean of the edges around it; at an end it turns on by half a step more. */
function headingAt(headings: Float64Array, p: number): number {
  const last = headings.length - 1;
  if (last < 1) return headings[0] ?? 0;
  if (p === 0) return headings[0] - (headings[1] - headings[0]) / 2;
  if (p > last) return headings[last] + (headings[last] - headings[last - 1]) / 2;
  return (headings[p - 1] + headings[p]) / 2;
}

/** Which points of the offset bound it: those that no other part of the edge comes nearer to than the width. */
function keepOffset(
  inner: Float64Array,
  outer: Float64Array,
  alongMm: Float64Array,
  widthMm: number,
): Uint8Array {
  const count = alongMm.length;
  const isKept = new Uint8Array(count).fill(1);
  const least = (widthMm * (1 - NEARER_SHARE)) ** 2;
  for (let p = 0; p < count; p++) {
    for (let q = 0; q + 1 < count && isKept[p]; q++) {
      // Farther along the line nothing of this strip's paper can lie under the point.
      if (Math.abs(alongMm[q] - alongMm[p]) > 3 * widthMm) continue;
      if (squareToSegment(outer, 2 * p, inner, 2 * q) < least) isKept[p] = 0;
    }
  }
  return isKept;
}

function squareToSegment(points: Float64Array, at: number, line: Float64Array, from: number): number {
  const dx = line[from + 2] - line[from];
  const dy = line[from + 3] - line[from + 1];
  const px = points[at] - line[from];
  const py = points[at + 1] - line[from + 1];
  const u = Math.min(1, Math.max(0, (px * dx + py * dy) / (dx * dx + dy * dy || 1)));
  return (px - u * dx) ** 2 + (py - u * dy) ** 2;
}

/** Length of the true outer edge over the flat one's, less 1, between rulings that are both kept. */
function strainOf(
  feet: Float64Array,
  normals: Float64Array,
  outer: Float64Array,
  isKept: Uint8Array,
  widthMm: number,
): Float64Array {
  const strain = new Float64Array(Math.max(0, isKept.length - 1));
  for (let p = 0; p < strain.length; p++) {
    const flatMm = Math.hypot(outer[2 * p + 2] - outer[2 * p], outer[2 * p + 3] - outer[2 * p + 1]);
    if (!isKept[p] || !isKept[p + 1] || flatMm === 0) continue;
    let square = 0;
    for (let k = 0; k < 3; k++) {
      const from = feet[3 * p + k] + widthMm * normals[3 * p + k];
      const to = feet[3 * p + 3 + k] + widthMm * normals[3 * p + 3 + k];
      square += (to - from) ** 2;
    }
    strain[p] = Math.sqrt(square) / flatMm - 1;
  }
  return strain;
}

function writeEdge(feet: Float64Array, p: number, out: Float64Array): void {
  for (let k = 0; k < 3; k++) out[k] = feet[3 * p + 3 + k] - feet[3 * p + k];
}

/** Angle by which the line turns towards the ruling at point p within the strip's plane there, radians. */
function turnTowards(before: Float64Array, ahead: Float64Array, normals: Float64Array, p: number): number {
  const nx = normals[3 * p];
  const ny = normals[3 * p + 1];
  const nz = normals[3 * p + 2];
  // The strip's plane holds the ruling and the mean direction; both edges are brought into it.
  const b = Math.hypot(before[0], before[1], before[2]) || 1;
  const a = Math.hypot(ahead[0], ahead[1], ahead[2]) || 1;
  let tx = before[0] / b + ahead[0] / a;
  let ty = before[1] / b + ahead[1] / a;
  let tz = before[2] / b + ahead[2] / a;
  const lean = tx * nx + ty * ny + tz * nz;
  tx -= lean * nx;
  ty -= lean * ny;
  tz -= lean * nz;
  const t = Math.hypot(tx, ty, tz) || 1;
  const angleOf = (edge: Float64Array): number =>
    Math.atan2(edge[0] * nx + edge[1] * ny + edge[2] * nz, (edge[0] * tx + edge[1] * ty + edge[2] * tz) / t);
  return angleOf(ahead) - angleOf(before);
}
