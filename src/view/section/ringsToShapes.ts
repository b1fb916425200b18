/** An outline with its holes, each a flat run of u v pairs that does not repeat its first point. */
export interface RingShape {
  readonly outline: Float32Array;
  readonly holes: readonly Float32Array[];
}

/**
 * Sorts even-odd rings into outlines and holes: a ring inside an even number of others bounds an area, one inside an
 * odd number is a hole of the smallest outline around it. Rings must not cross; winding does not matter.
 * Rings of fewer than three different points are left out. Cost: (number of rings)^2 point-in-ring tests.
 */
export function ringsToShapes(rings: readonly Float32Array[]): RingShape[] {
  const open = rings.map(withoutClosingPoint).filter((ring) => ring.length >= 6);
  const areas = open.map((ring) => Math.abs(signedRingArea(ring)));
  const around = open.map((ring, i) =>
    open.map((_, j) => j).filter((j) => j !== i && areas[j] > areas[i] && isInsideRing(open[j], ring)),
  );
  const shapes = new Map<number, { outline: Float32Array; holes: Float32Array[] }>();
  open.forEach((ring, i) => {
    if (around[i].length % 2 === 0) shapes.set(i, { outline: ring, holes: [] });
  });
  open.forEach((ring, i) => {
    if (around[i].length % 2 === 0) return;
    const parents = around[i].filter((j) => shapes.has(j));
    const parent = parents.reduce((a, b) => (areas[a] <= areas[b] ? a : b));
    shapes.get(parent)?.holes.push(ring);
  });
  return [...shapes.values()];
}

/** Area by the shoelace formula; positive when the ring runs counter-clockwise. Units of u times v. */
export function signedRingArea(ring: ArrayLike<number>): number {
  let twice = 0;
  const n = ring.length;
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n;
    twice += ring[i] * ring[j + 1] - ring[j] * ring[i + 1];
  }
  return twice / 2;
}

/** Most of `inner`'s first points lie inside; three votes, since one point may touch the other ring. */
function isInsideRing(outer: Float32Array, inner: Float32Array): boolean {
  let votes = 0;
  const step = 2 * Math.max(1, Math.floor(inner.length / 6));
  for (let k = 0; k < 3; k++) {
    const at = (k * step) % inner.length;
    if (isPointInRing(outer, inner[at], inner[at + 1])) votes++;
  }
  return votes >= 2;
}

/** Crossing-number test. Source: J. O'Rourke, "Computational Geometry in C", 1998, 7.4 (from memory). */
function isPointInRing(ring: Float32Array, u: number, v: number): boolean {
  let inside = false;
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const vi = ring[i + 1];
    const vj = ring[j + 1];
    if (vi > v !== vj > v && u < ring[i] + ((ring[j] - ring[i]) * (v - vi)) / (vj - vi)) inside = !inside;
  }
  return inside;
}

function withoutClosingPoint(ring: Float32Array): Float32Array {
  const n = ring.length;
  return n >= 4 && ring[0] === ring[n - 2] && ring[1] === ring[n - 1] ? ring.subarray(0, n - 2) : ring;
}
