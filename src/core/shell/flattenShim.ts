import type { Rulings } from '../parting/layRulings.ts';

/** A shim unrolled flat. Lengths in mm; n x 2 each, the edge on the rubber running along x at its start, the sheet on its left. */
export interface FlatShim {
  readonly inner: Float64Array;
  readonly outer: Float64Array;
  /** n: length along the edge on the rubber up to each ruling. */
  readonly alongMm: Float64Array;
  /** n - 1: by how much the sheet's outer edge is too short (positive) or too long there once it is bent on, share. */
  readonly strain: Float64Array;
  /** Largest of them, without its sign. */
  readonly worstStrain: number;
}

/** A ruling ends where it would meet its neighbour, with this much of the way left to it: over a tight hollow. */
const CLIP_SHARE = 0.95;

/**
 * The strip of sheet that stands on a line along the rubber's normals, laid flat: its edge on the rubber bends in the flat by
 * the line's curvature towards the normal, the rulings keep their length and their angle to the line. It fits without
 * stretching where the surface does not twist along the line; elsewhere the outer edge differs by half the square of width
 * times twist, which `strain` tells: the sheet is then snipped from its outer edge.
 *
 * Source: Darboux frame of a curve on a surface; Pottmann and Wallner, Computational Line Geometry, 2001. Cost: O(n).
 * @param widthMm from the rubber to the sheet's outer edge.
 */
export function flattenShim({ feet, normals }: Rulings, widthMm: number): FlatShim {
  const count = feet.length / 3;
  const inner = new Float64Array(2 * count);
  const outer = new Float64Array(2 * count);
  const alongMm = new Float64Array(count);
  const strain = new Float64Array(Math.max(0, count - 1));
  const widths = new Float64Array(count).fill(widthMm);
  const headings = new Float64Array(Math.max(0, count - 1));
  const before = new Float64Array(3);
  const ahead = new Float64Array(3);
  for (let p = 0; p + 1 < count; p++) {
    writeEdge(feet, p, ahead);
    const length = Math.hypot(ahead[0], ahead[1], ahead[2]);
    alongMm[p + 1] = alongMm[p] + length;
    if (p > 0) {
      const turn = turnTowards(before, ahead, normals, p);
      headings[p] = headings[p - 1] + turn;
      const meanMm = (alongMm[p + 1] - alongMm[p - 1]) / 2;
      // Towards the normal the rulings close in on each other and meet at the radius of the bend.
      if (turn > 0) widths[p] = Math.min(widthMm, (CLIP_SHARE * meanMm) / turn);
    }
    inner[2 * p + 2] = inner[2 * p] + length * Math.cos(headings[p]);
    inner[2 * p + 3] = inner[2 * p + 1] + length * Math.sin(headings[p]);
    before.set(ahead);
  }
  for (let p = 0; p < count; p++) {
    const back = Math.max(0, p - 1);
    const front = Math.min(count - 2, p);
    const heading = count < 2 ? 0 : (headings[back] + headings[front]) / 2;
    const lean = heading + leanOf(feet, normals, p, count);
    outer[2 * p] = inner[2 * p] + widths[p] * Math.cos(lean);
    outer[2 * p + 1] = inner[2 * p + 1] + widths[p] * Math.sin(lean);
  }
  let worstStrain = 0;
  for (let p = 0; p + 1 < count; p++) {
    const flatMm = Math.hypot(outer[2 * p + 2] - outer[2 * p], outer[2 * p + 3] - outer[2 * p + 1]);
    let square = 0;
    for (let k = 0; k < 3; k++) {
      const from = feet[3 * p + k] + widths[p] * normals[3 * p + k];
      const to = feet[3 * p + 3 + k] + widths[p + 1] * normals[3 * p + 3 + k];
      square += (to - from) ** 2;
    }
    // Over a clipped ruling both are next to nothing, and their ratio says nothing.
    const isClipped = widths[p] < widthMm || widths[p + 1] < widthMm;
    strain[p] = flatMm > 0 && !isClipped ? Math.sqrt(square) / flatMm - 1 : 0;
    worstStrain = Math.max(worstStrain, Math.abs(strain[p]));
  }
  return { inner, outer, alongMm, strain, worstStrain };
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

/** Angle from the line's direction at point p to its ruling, radians: a right angle where the normal is square to the line. */
function leanOf(feet: Float64Array, normals: Float64Array, p: number, count: number): number {
  if (count < 2) return Math.PI / 2;
  const from = Math.max(0, p - 1);
  const to = Math.min(count - 1, p + 1);
  let dot = 0;
  let square = 0;
  for (let k = 0; k < 3; k++) {
    const along = feet[3 * to + k] - feet[3 * from + k];
    dot += along * normals[3 * p + k];
    square += along * along;
  }
  return Math.acos(Math.min(1, Math.max(-1, dot / (Math.sqrt(square) || 1))));
}
