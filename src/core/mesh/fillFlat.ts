import cdt2d from 'cdt2d';
import { areaOfLoop, type FlatLoop } from './nestOutlines.ts';
import { isPlaceInside } from './outlineTests.ts';

/** A flat gets at most about so many points of its own: enough to read on, and the triangulation's cost grows faster than they do. Own choice. */
const MOST_OWN_POINTS = 1000;
/** Own points stay this far from the outline, share of their spacing, so that no needles arise there. */
const OFF_OUTLINE_SHARE = 0.7;
/** A filled flat whose triangles do not add up to this share of its area is none. Rounding alone is far below. */
const AREA_SHARE = 1e-9;

export interface FilledFlat {
  /** Triples of places: first all loops' in order, then `added`; counter-clockwise. */
  readonly tris: readonly (readonly [number, number, number])[];
  readonly added: readonly (readonly [number, number])[];
  readonly area: number;
}

/**
 * A triangulation of the flat between an outer line (counter-clockwise, first) and the lines of its openings (clockwise)
 * with points of its own, as far apart as those of the outline, so that heights and thickness can be read on it. Null when
 * the lines bound no flat. Constrained Delaunay with exact predicates (npm cdt2d). Cost: some 50 ms for 1000 points.
 *
 * The lines must neither cross nor touch.
 */
export function fillFlat(loops: readonly FlatLoop[]): FilledFlat | null {
  const area = loops.reduce((sum, loop) => sum + areaOfLoop(loop), 0);
  if (!(area > 0)) return null;
  const outline = loops.flat();
  const edges: [number, number][] = [];
  let first = 0;
  for (const loop of loops) {
    loop.forEach((_, i) => {
      edges.push([first + i, first + ((i + 1) % loop.length)]);
    });
    first += loop.length;
  }
  const added = placeOwnPoints(loops, area);
  const places = [...outline, ...added];
  const tris = cdt2d(places, edges, { exterior: false }).map(([a, b, c]): [number, number, number] =>
    twiceArea(places, a, b, c) >= 0 ? [a, b, c] : [a, c, b],
  );
  const isWhole =
    Math.abs(tris.reduce((sum, [a, b, c]) => sum + twiceArea(places, a, b, c) / 2, 0) - area) <=
    AREA_SHARE * area;
  return isWhole && haveEdges(tris, edges) ? { tris, added, area } : null;
}

/** Points of a triangular lattice inside the flat and off its lines. */
function placeOwnPoints(loops: readonly FlatLoop[], area: number): [number, number][] {
  const outline = loops.flat();
  let length = 0;
  for (const loop of loops) {
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length];
      length += Math.hypot(b[0] - a[0], b[1] - a[1]);
    });
  }
  const spacing = Math.max(length / outline.length, Math.sqrt(area / MOST_OWN_POINTS));
  const off = OFF_OUTLINE_SHARE * spacing;
  const taken = placesAlong(loops, off);
  const isTaken = (u: number, v: number): boolean => {
    const i = Math.floor(u / off);
    const j = Math.floor(v / off);
    for (let di = -1; di <= 1; di++) {
      for (let dj = -1; dj <= 1; dj++) {
        for (const [x, y] of taken.get(`${i + di},${j + dj}`) ?? []) {
          if (Math.hypot(x - u, y - v) < off) return true;
        }
      }
    }
    return false;
  };
  let [u0, v0, u1, v1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [u, v] of outline) {
    u0 = Math.min(u0, u);
    v0 = Math.min(v0, v);
    u1 = Math.max(u1, u);
    v1 = Math.max(v1, v);
  }
  const rowMm = (spacing * Math.sqrt(3)) / 2;
  const points: [number, number][] = [];
  for (let row = 0; v0 + row * rowMm < v1; row++) {
    const v = v0 + (row + 0.5) * rowMm;
    for (let u = u0 + (row % 2 === 0 ? 0.25 : 0.75) * spacing; u < u1; u += spacing) {
      if (isTaken(u, v)) continue;
      // Inside the outer line and in none of the openings: the count of lines around it is odd.
      const around = loops.reduce((sum, loop) => sum + (isPlaceInside([u, v], loop) ? 1 : 0), 0);
      if (around === 1) points.push([u, v]);
    }
  }
  return points;
}

/** Places no farther apart than half of `off` along the lines, by squares of that edge. */
function placesAlong(loops: readonly FlatLoop[], off: number): Map<string, [number, number][]> {
  const taken = new Map<string, [number, number][]>();
  for (const loop of loops) {
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length];
      const steps = Math.max(1, Math.ceil((2 * Math.hypot(b[0] - a[0], b[1] - a[1])) / off));
      for (let s = 0; s < steps; s++) {
        const place: [number, number] = [
          a[0] + (s / steps) * (b[0] - a[0]),
          a[1] + (s / steps) * (b[1] - a[1]),
        ];
        const key = `${Math.floor(place[0] / off)},${Math.floor(place[1] / off)}`;
        const list = taken.get(key);
        if (list) list.push(place);
        else taken.set(key, [place]);
      }
    });
  }
  return taken;
}

/** Whether every edge of the lines is the edge of just one triangle, and every other edge of just two. */
function haveEdges(
  tris: readonly (readonly [number, number, number])[],
  edges: readonly (readonly [number, number])[],
): boolean {
  const open = new Set<string>();
  for (const [a, b, c] of tris) {
    for (const [v, w] of [
      [a, b],
      [b, c],
      [c, a],
    ]) {
      if (!open.delete(`${w},${v}`)) open.add(`${v},${w}`);
    }
  }
  return open.size === edges.length && edges.every(([a, b]) => open.has(`${a},${b}`));
}

function twiceArea(places: readonly (readonly [number, number])[], a: number, b: number, c: number): number {
  const [ax, ay] = places[a];
  return (places[b][0] - ax) * (places[c][1] - ay) - (places[c][0] - ax) * (places[b][1] - ay);
}
