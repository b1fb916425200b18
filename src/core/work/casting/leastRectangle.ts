/**
 * Sides of the smallest rectangle around points of a plane, the longer first; zeros for fewer than two points. One of
 * its sides lies on an edge of the convex hull (Freeman and Shapira, Determining the minimum-area encasing rectangle for an
 * arbitrary closed curve, 1975; from memory). Cost: n log n for the hull, then the square of its corners.
 */
export function leastRectangle(points: readonly (readonly [number, number])[]): readonly [number, number] {
  const hull = convexHull(points);
  if (hull.length < 2) return [0, 0];
  let best: readonly [number, number] = [0, 0];
  let leastArea = Infinity;
  for (let n = 0; n < hull.length; n++) {
    const [ax, ay] = hull[n];
    const [bx, by] = hull[(n + 1) % hull.length];
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const ux = (bx - ax) / length;
    const uy = (by - ay) / length;
    let least = Infinity;
    let most = -Infinity;
    let height = 0;
    for (const [x, y] of hull) {
      const along = (x - ax) * ux + (y - ay) * uy;
      if (along < least) least = along;
      if (along > most) most = along;
      height = Math.max(height, Math.abs((x - ax) * uy - (y - ay) * ux));
    }
    const width = most - least;
    if (width * height < leastArea) {
      leastArea = width * height;
      best = width >= height ? [width, height] : [height, width];
    }
  }
  return best;
}

/** Corners in counter-clockwise order (Andrew's monotone chain, 1979; from memory). */
function convexHull(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (sorted.length < 3) return sorted;
  const half = (list: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
    const chain: (readonly [number, number])[] = [];
    for (const point of list) {
      while (chain.length >= 2 && turnOf(chain[chain.length - 2], chain[chain.length - 1], point) <= 0) {
        chain.pop();
      }
      chain.push(point);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Twice the signed area of the triangle: above 0 for a turn to the left. */
function turnOf(
  a: readonly [number, number],
  b: readonly [number, number],
  c: readonly [number, number],
): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
