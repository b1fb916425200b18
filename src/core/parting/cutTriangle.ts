import cdt2d from 'cdt2d';
import type { PathNodes, TouchedFace, Wall } from './placePathNodes.ts';
import { SNAP_SHARE, type SurfaceContext } from './SurfaceContext.ts';

/**
 * A node this near to a wall, in weights of the triangle, lies on it. Larger than SNAP_SHARE, because both of the wall's
 * ends may have been moved by that much.
 */
const ON_WALL_SHARE = 3 * SNAP_SHARE;

/** A touched triangle's replacement: node triples, counter-clockwise as the triangle was, and its walls between nodes. */
export interface TriangleCut {
  readonly tri: number;
  readonly tris: number[];
  readonly walls: readonly Wall[];
}

/**
 * Triangulates one triangle with the nodes on its edges and inside it, keeping its walls as edges. Walls that cross get
 * a node where they do. Works in the triangle's own weights, in which border points are exactly on the border, so that
 * thin triangles are as safe as round ones. The usual case, one wall from border to border, is written out; everything
 * else goes through a constrained Delaunay triangulation (npm cdt2d, exact predicates).
 */
export function cutTriangle(surface: SurfaceContext, nodes: PathNodes, face: TouchedFace): TriangleCut {
  const { tri } = face;
  const { indices } = surface;
  const h = 3 * tri;
  if (face.walls.length === 1 && face.inner.length === 0) {
    const { from, to } = face.walls[0];
    const ring = borderOf(surface, nodes, tri);
    const edgeNodeCount = ring.length - 3;
    const own = (from >= surface.vertCount ? 1 : 0) + (to >= surface.vertCount ? 1 : 0);
    if (own === edgeNodeCount) {
      const i = Math.min(ring.indexOf(from), ring.indexOf(to));
      const j = Math.max(ring.indexOf(from), ring.indexOf(to));
      const tris: number[] = [];
      fillConvex(surface, nodes, ring.slice(i, j + 1), tris);
      fillConvex(surface, nodes, [...ring.slice(j), ...ring.slice(0, i + 1)], tris);
      return { tri, tris, walls: face.walls };
    }
  }
  const walls = splitWalls(nodes, face);
  const ring = borderOf(surface, nodes, tri);
  if (ring.length === 3 && face.inner.length === 0) {
    return { tri, tris: [indices[h], indices[h + 1], indices[h + 2]], walls };
  }
  const local = [...ring, ...face.inner];
  const place = new Map(local.map((node, i) => [node, i]));
  const points = local.map((node) => nodes.weightsIn(tri, node));
  const edges: [number, number][] = ring.map((_, i) => [i, (i + 1) % ring.length]);
  for (const wall of walls) edges.push([place.get(wall.from)!, place.get(wall.to)!]);
  const tris: number[] = [];
  for (const [a, b, c] of cdt2d(points, edges, { exterior: false })) {
    const area =
      (points[b][0] - points[a][0]) * (points[c][1] - points[a][1]) -
      (points[b][1] - points[a][1]) * (points[c][0] - points[a][0]);
    if (area >= 0) tris.push(local[a], local[b], local[c]);
    else tris.push(local[a], local[c], local[b]);
  }
  return { tri, tris, walls };
}

/** Corners and edge nodes, counter-clockwise from the first corner. */
function borderOf(surface: SurfaceContext, nodes: PathNodes, tri: number): number[] {
  const h = 3 * tri;
  const ring: number[] = [];
  for (let k = 0; k < 3; k++) {
    ring.push(surface.indices[h + k]);
    for (const node of nodes.nodesAlong(h + k)) ring.push(node);
  }
  return ring;
}

/** Three or four corners, no three in line: the shorter diagonal. */
function fillConvex(surface: SurfaceContext, nodes: PathNodes, ring: readonly number[], out: number[]): void {
  const [a, b, c, d] = ring;
  if (ring.length === 3) {
    out.push(a, b, c);
    return;
  }
  if (squaredDistance(surface, nodes, a, c) <= squaredDistance(surface, nodes, b, d)) {
    out.push(a, b, c, a, c, d);
  } else out.push(a, b, d, b, c, d);
}

function squaredDistance(surface: SurfaceContext, nodes: PathNodes, m: number, n: number): number {
  const { vertCount } = surface;
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const x = m < vertCount ? surface.positions[3 * m + k] : nodes.positions[3 * (m - vertCount) + k];
    const y = n < vertCount ? surface.positions[3 * n + k] : nodes.positions[3 * (n - vertCount) + k];
    sum += (x - y) ** 2;
  }
  return sum;
}

/** The face's walls in pieces that meet at nodes only: crossings become nodes, nodes on a wall part it, doubles go. */
function splitWalls(nodes: PathNodes, face: TouchedFace): Wall[] {
  const { tri, walls } = face;
  for (let i = 0; i < walls.length; i++) {
    for (let j = 0; j < i; j++) addCrossing(nodes, tri, walls[i], walls[j]);
  }
  const all = new Set<number>(face.inner);
  for (const wall of walls) all.add(wall.from).add(wall.to);
  const seen = new Set<string>();
  const out: Wall[] = [];
  for (const wall of walls) {
    const [ax, ay] = nodes.weightsIn(tri, wall.from);
    const [bx, by] = nodes.weightsIn(tri, wall.to);
    const dx = bx - ax;
    const dy = by - ay;
    const len2 = dx * dx + dy * dy;
    const stops: { node: number; at: number }[] = [];
    for (const node of all) {
      if (node === wall.from || node === wall.to) continue;
      const [x, y] = nodes.weightsIn(tri, node);
      const at = ((x - ax) * dx + (y - ay) * dy) / len2;
      if (!(at > 0 && at < 1)) continue;
      if (Math.abs((x - ax) * dy - (y - ay) * dx) > ON_WALL_SHARE * Math.sqrt(len2)) continue;
      stops.push({ node, at });
    }
    stops.sort((m, n) => m.at - n.at);
    let from = wall.from;
    for (const to of [...stops.map((stop) => stop.node), wall.to]) {
      const key = from < to ? `${from},${to}` : `${to},${from}`;
      if (!seen.has(key)) out.push({ from, to, path: wall.path, tri });
      seen.add(key);
      from = to;
    }
  }
  return out;
}

/** Where two walls cross in their insides, a node; an inner node of the face, or one that is there already. */
function addCrossing(nodes: PathNodes, tri: number, m: Wall, n: Wall): void {
  if (m.from === n.from || m.from === n.to || m.to === n.from || m.to === n.to) return;
  const [ax, ay] = nodes.weightsIn(tri, m.from);
  const [bx, by] = nodes.weightsIn(tri, m.to);
  const [cx, cy] = nodes.weightsIn(tri, n.from);
  const [dx, dy] = nodes.weightsIn(tri, n.to);
  const ux = bx - ax;
  const uy = by - ay;
  const vx = dx - cx;
  const vy = dy - cy;
  // Distances of each wall's ends from the other wall; an end on the other wall is no crossing, it parts that wall.
  const c = (ux * (cy - ay) - uy * (cx - ax)) / Math.hypot(ux, uy);
  const d = (ux * (dy - ay) - uy * (dx - ax)) / Math.hypot(ux, uy);
  const a = (vx * (ay - cy) - vy * (ax - cx)) / Math.hypot(vx, vy);
  const b = (vx * (by - cy) - vy * (bx - cx)) / Math.hypot(vx, vy);
  const least = ON_WALL_SHARE;
  if (Math.min(Math.abs(a), Math.abs(b), Math.abs(c), Math.abs(d)) <= least) return;
  if (a > 0 === b > 0 || c > 0 === d > 0) return;
  const at = a / (a - b);
  const w1 = ax + at * ux;
  const w2 = ay + at * uy;
  nodes.nodeInTri(tri, 1 - w1 - w2, w1, w2);
}
