/** A polygon with more corners than this that is not convex is refused: ear clipping takes the square of the count. */
export const MAX_CLIPPED_CORNERS = 4096;

/**
 * Looks at a corner that all polygons of a file together may take; about half a second. Ears are found soon in what people draw:
 * the jagged ring of a cut, 4000 corners, takes a twentieth of it. A ribbon wound up in a plane would take minutes. Own choice.
 */
export const MOST_LOOKS = 1e8;

/** What a file's polygons may still cost. */
export interface SplitBudget {
  looksLeft: number;
}

/**
 * Splits a polygon into its n - 2 triangles, wound as the polygon is. `corners[at..at+size)` are vertex numbers, `write`
 * gets three at a time.
 *
 * A polygon that is convex, seen along its Newell normal, is split as a fan from its first corner; another by clipping
 * ears in that view. When no ear is left (corners that cross, or no area) the rest is split as a fan, so that no face is lost.
 * Returns false when it is neither convex nor within MAX_CLIPPED_CORNERS, or the budget is used up: what was written is then
 * not the whole polygon.
 * Source: the normal is Newell's (as in F. Tampieri, "Newell's method for computing the plane equation of a polygon",
 * Graphics Gems III, 1992); ears: G. H. Meisters, "Polygons have ears" (1975).
 */
export function splitPolygon(
  positions: Float64Array,
  corners: Uint32Array,
  at: number,
  size: number,
  write: (a: number, b: number, c: number) => void,
  budget: SplitBudget = { looksLeft: MOST_LOOKS },
): boolean {
  const flat = flatten(positions, corners, at, size);
  if (isConvex(flat, size)) {
    for (let i = 2; i < size; i++) write(corners[at], corners[at + i - 1], corners[at + i]);
    return true;
  }
  if (size > MAX_CLIPPED_CORNERS) return false;
  return clipEars(flat, corners, at, size, write, budget);
}

/** Corners seen along the polygon's normal, n x 2, counter-clockwise: the plane's axis of largest normal is left out. */
function flatten(positions: Float64Array, corners: Uint32Array, at: number, size: number): Float64Array {
  let nx = 0;
  let ny = 0;
  let nz = 0;
  // Taken from the first corner, so that a face far from the origin keeps its digits.
  const origin = 3 * corners[at];
  for (let i = 0; i < size; i++) {
    const p = 3 * corners[at + i];
    const q = 3 * corners[at + ((i + 1) % size)];
    const px = positions[p] - positions[origin];
    const py = positions[p + 1] - positions[origin + 1];
    const pz = positions[p + 2] - positions[origin + 2];
    const qx = positions[q] - positions[origin];
    const qy = positions[q + 1] - positions[origin + 1];
    const qz = positions[q + 2] - positions[origin + 2];
    nx += (py - qy) * (pz + qz);
    ny += (pz - qz) * (px + qx);
    nz += (px - qx) * (py + qy);
  }
  const ax = Math.abs(nx);
  const ay = Math.abs(ny);
  const az = Math.abs(nz);
  let u = 0;
  let v = 1;
  let sense = nz;
  if (ax >= ay && ax >= az) {
    u = 1;
    v = 2;
    sense = nx;
  } else if (ay >= az) {
    u = 2;
    v = 0;
    sense = ny;
  }
  const flat = new Float64Array(2 * size);
  for (let i = 0; i < size; i++) {
    const p = 3 * corners[at + i];
    flat[2 * i] = positions[p + u] - positions[origin + u];
    flat[2 * i + 1] = (positions[p + v] - positions[origin + v]) * (sense < 0 ? -1 : 1);
  }
  return flat;
}

/** Twice the signed area of the triangle of three corners; positive: counter-clockwise. */
function area2(flat: Float64Array, a: number, b: number, c: number): number {
  const x = flat[2 * a];
  const y = flat[2 * a + 1];
  return (flat[2 * b] - x) * (flat[2 * c + 1] - y) - (flat[2 * b + 1] - y) * (flat[2 * c] - x);
}

/** Whether a fan from corner 0 is right: no corner turns clockwise, and no triangle of the fan is turned over. */
function isConvex(flat: Float64Array, size: number): boolean {
  for (let i = 0; i < size; i++) {
    if (area2(flat, i, (i + 1) % size, (i + 2) % size) < 0) return false;
  }
  for (let i = 2; i < size; i++) {
    if (area2(flat, 0, i - 1, i) < 0) return false;
  }
  return true;
}

function clipEars(
  flat: Float64Array,
  corners: Uint32Array,
  at: number,
  size: number,
  write: (a: number, b: number, c: number) => void,
  budget: SplitBudget,
): boolean {
  const next = new Uint32Array(size);
  const last = new Uint32Array(size);
  for (let i = 0; i < size; i++) {
    next[i] = (i + 1) % size;
    last[i] = (i + size - 1) % size;
  }
  let left = size;
  let i = 0;
  let looked = 0;
  while (left > 3 && looked < left) {
    const a = last[i];
    const b = next[i];
    if (budget.looksLeft < 0) return false;
    if (isEar(flat, next, a, i, b, budget)) {
      write(corners[at + a], corners[at + i], corners[at + b]);
      next[a] = b;
      last[b] = a;
      left--;
      looked = 0;
      // Going on past the next corner makes fewer needles than clipping beside the last cut.
      i = next[b];
    } else {
      looked++;
      i = b;
    }
  }
  const first = i;
  for (let b = next[first]; next[b] !== first; b = next[b]) {
    write(corners[at + first], corners[at + b], corners[at + next[b]]);
  }
  return true;
}

/** Whether the corner i between a and b turns counter-clockwise and no other corner that is left lies in its triangle. */
function isEar(
  flat: Float64Array,
  next: Uint32Array,
  a: number,
  i: number,
  b: number,
  budget: SplitBudget,
): boolean {
  let looks = 1;
  let isFree = area2(flat, a, i, b) > 0;
  for (let p = next[b]; isFree && p !== a; p = next[p]) {
    looks++;
    if (area2(flat, a, i, p) >= 0 && area2(flat, i, b, p) >= 0 && area2(flat, b, a, p) >= 0) {
      // A corner at the same place as one of the ear's (a bridge to a hole) does not stand in the way.
      isFree = isSamePlace(flat, p, a) || isSamePlace(flat, p, i) || isSamePlace(flat, p, b);
    }
  }
  budget.looksLeft -= looks;
  return isFree;
}

function isSamePlace(flat: Float64Array, p: number, q: number): boolean {
  return flat[2 * p] === flat[2 * q] && flat[2 * p + 1] === flat[2 * q + 1];
}
