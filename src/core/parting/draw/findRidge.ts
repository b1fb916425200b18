import type { Vec3 } from '../../mesh/TriMesh.ts';
import { nextHalf, type SurfaceContext, type SurfacePoint } from '../SurfaceContext.ts';
import { pointOnEdge } from './findRimNear.ts';
import type { SurfacePatch } from './growPatch.ts';
import { nearestOnSegment } from './nearestOnSegment.ts';

/** Curvature is averaged over this share of the reach, so that the grain of a scan is not taken for ridges. */
const SCALE_SHARE = 0.4;
/** The scale must be at least this many of the patch's edges. */
const LEAST_EDGES = 1.5;
/** Steps to each side across the ridge. */
const STEPS = 10;
/** The surface must turn by this much over the scale to count as a ridge. A choice: about eleven degrees. */
const LEAST_TURN_RAD = 0.2;
/** To both sides the curvature must fall to this share of the ridge's, or it is a bulge and not a ridge. A choice. */
const SIDE_SHARE = 0.75;
/** An edge that turns by this much is a ridge by itself: the point goes exactly on it. A choice: twenty degrees. */
const SHARP_RAD = Math.PI / 9;

/**
 * The point of the crest of the nearest ridge across from `at`: where the curvature across the ridge, averaged about each
 * point, is largest, with less of it to both sides. Null where no ridge is within reach. A sharp edge is met exactly.
 *
 * Curvature by normal cycles, weighted with a kernel (1 - (d/scale)^2)^2: D. Cohen-Steiner & J.-M. Morvan (2003),
 * "Restricted Delaunay triangulations and normal cycle", SoCG; its direction as P. Alliez et al. (2003), "Anisotropic
 * polygonal remeshing", section 3.1. The crest as in Y. Ohtake, A. Belyaev & H.-P. Seidel (2004), "Ridge-valley lines on
 * meshes via implicit surface fitting": an extremum of the largest curvature along its own direction.
 * O(patch) for the sums, times 2 STEPS.
 */
export function findRidge(
  surface: SurfaceContext,
  patch: SurfacePatch,
  at: SurfacePoint,
  reachMm: number,
): SurfacePoint | null {
  const bends = listBends(surface, patch);
  const scaleMm = SCALE_SHARE * reachMm;
  // Triangles so large that there is nothing to average: their edges are what ridges there are.
  if (scaleMm < LEAST_EDGES * bends.meanEdgeMm) return nearestSharpEdge(surface, bends, at, reachMm);
  const normal = normalAt(surface, patch, at);
  const across = directionAcross(bends, at, normal, reachMm);
  if (across === null) return null;

  // A walk across the ridge to both sides, on the surface, and the curvature along it.
  const stepMm = reachMm / STEPS;
  const walk: SurfacePoint[] = [at];
  for (const sense of [1, -1]) {
    let here = at;
    for (let i = 1; i <= STEPS; i++) {
      const n = normalAt(surface, patch, here);
      const along = tangentOf(across, n);
      if (along === null) break;
      const step = sense * stepMm;
      const next = surface.closestPoint([
        here.x + step * along[0],
        here.y + step * along[1],
        here.z + step * along[2],
      ]);
      // Off the patch is another sheet, or too far.
      if (!patch.triNormals.has(next.tri)) break;
      here = next;
      if (sense > 0) walk.push(here);
      else walk.unshift(here);
    }
  }
  const turn = walk.map((q) => scaleMm * curvatureAcross(bends, q, across, scaleMm));
  const middle = walk.indexOf(at);
  let crest = -1;
  for (let i = 1; i + 1 < walk.length; i++) {
    if (!(turn[i] >= LEAST_TURN_RAD && turn[i] >= turn[i - 1] && turn[i] > turn[i + 1])) continue;
    if (!(leastBefore(turn, i) <= SIDE_SHARE * turn[i] && leastAfter(turn, i) <= SIDE_SHARE * turn[i]))
      continue;
    if (crest < 0 || Math.abs(i - middle) < Math.abs(crest - middle)) crest = i;
  }
  if (crest < 0) return null;

  // The top of the parabola through the three about the crest.
  const [before, top, after] = [turn[crest - 1], turn[crest], turn[crest + 1]];
  const dip = before - 2 * top + after;
  const shift = dip < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / dip)) : 0;
  const a = walk[crest];
  const b = walk[shift < 0 ? crest - 1 : crest + 1];
  const s = Math.abs(shift);
  const found = surface.closestPoint([a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), a.z + s * (b.z - a.z)]);
  return nearestSharpEdge(surface, bends, found, 2 * stepMm) ?? found;
}

/** Every edge of a patch between two of its triangles. */
interface PatchBends {
  readonly half: number[];
  /** Per edge: middle x y z, direction x y z (unit), turning angle (convex positive) times length, turning angle. */
  readonly data: Float64Array;
  readonly count: number;
  /** Per inner triangle: middle x y z, area. */
  readonly areas: Float64Array;
  readonly meanEdgeMm: number;
}

/** Numbers an edge takes in `data`. */
const STRIDE = 8;

function listBends(surface: SurfaceContext, patch: SurfacePatch): PatchBends {
  const { positions: p, indices, links } = surface;
  const half: number[] = [];
  const data = new Float64Array(STRIDE * 3 * patch.tris.length);
  const areas = new Float64Array(4 * patch.tris.length);
  let count = 0;
  let sumMm = 0;
  for (let i = 0; i < patch.tris.length; i++) {
    const t = patch.tris[i];
    const n = patch.triNormals.get(t) as Float64Array;
    const va = 3 * indices[3 * t];
    const vb = 3 * indices[3 * t + 1];
    const vc = 3 * indices[3 * t + 2];
    for (let k = 0; k < 3; k++) areas[4 * i + k] = (p[va + k] + p[vb + k] + p[vc + k]) / 3;
    areas[4 * i + 3] = areaOf(p, va, vb, vc);
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const over = links[h];
      if (over < h) continue;
      const m = patch.triNormals.get((over / 3) | 0);
      if (!m) continue;
      const a = 3 * indices[h];
      const b = 3 * indices[nextHalf(h)];
      const ex = p[b] - p[a];
      const ey = p[b + 1] - p[a + 1];
      const ez = p[b + 2] - p[a + 2];
      const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
      if (length === 0) continue;
      const cx = n[1] * m[2] - n[2] * m[1];
      const cy = n[2] * m[0] - n[0] * m[2];
      const cz = n[0] * m[1] - n[1] * m[0];
      const turn = Math.atan2(
        (cx * ex + cy * ey + cz * ez) / length,
        n[0] * m[0] + n[1] * m[1] + n[2] * m[2],
      );
      const o = STRIDE * count;
      for (let k = 0; k < 3; k++) data[o + k] = 0.5 * (p[a + k] + p[b + k]);
      data[o + 3] = ex / length;
      data[o + 4] = ey / length;
      data[o + 5] = ez / length;
      data[o + 6] = turn * length;
      data[o + 7] = turn;
      half.push(h);
      sumMm += length;
      count++;
    }
  }
  return { half, data, count, areas, meanEdgeMm: count > 0 ? sumMm / count : 0 };
}

/** Along which direction the surface about a point turns most, unit, square to the normal; null where it hardly turns outward. */
function directionAcross(bends: PatchBends, at: SurfacePoint, normal: Vec3, reachMm: number): Vec3 | null {
  const { data, count } = bends;
  const u = anyTangent(normal);
  const v = cross(normal, u);
  let uu = 0;
  let uv = 0;
  let vv = 0;
  const reach2 = reachMm * reachMm;
  for (let i = 0; i < count; i++) {
    const o = STRIDE * i;
    const d2 = (data[o] - at.x) ** 2 + (data[o + 1] - at.y) ** 2 + (data[o + 2] - at.z) ** 2;
    if (d2 >= reach2) continue;
    const w = (1 - d2 / reach2) ** 2 * data[o + 6];
    const eu = data[o + 3] * u[0] + data[o + 4] * u[1] + data[o + 5] * u[2];
    const ev = data[o + 3] * v[0] + data[o + 4] * v[1] + data[o + 5] * v[2];
    uu += w * eu * eu;
    uv += w * eu * ev;
    vv += w * ev * ev;
  }
  // The larger eigenvalue's direction runs along the ridge, for edges bend across themselves.
  const half = 0.5 * (uu - vv);
  const most = 0.5 * (uu + vv) + Math.sqrt(half * half + uv * uv);
  if (!(most > 0)) return null;
  const angle = 0.5 * Math.atan2(2 * uv, uu - vv);
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const alongRidge: Vec3 = [c * u[0] + s * v[0], c * u[1] + s * v[1], c * u[2] + s * v[2]];
  return cross(normal, alongRidge);
}

/** Curvature (1/mm, convex positive) across a ridge that runs square to `across`, averaged within `scaleMm` of a point. */
function curvatureAcross(bends: PatchBends, q: SurfacePoint, across: Vec3, scaleMm: number): number {
  const { data, count, areas } = bends;
  const scale2 = scaleMm * scaleMm;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const o = STRIDE * i;
    const d2 = (data[o] - q.x) ** 2 + (data[o + 1] - q.y) ** 2 + (data[o + 2] - q.z) ** 2;
    if (d2 >= scale2) continue;
    const ea = data[o + 3] * across[0] + data[o + 4] * across[1] + data[o + 5] * across[2];
    sum += (1 - d2 / scale2) ** 2 * data[o + 6] * (1 - ea * ea);
  }
  let area = 0;
  for (let i = 0; i < areas.length; i += 4) {
    const d2 = (areas[i] - q.x) ** 2 + (areas[i + 1] - q.y) ** 2 + (areas[i + 2] - q.z) ** 2;
    if (d2 < scale2) area += (1 - d2 / scale2) ** 2 * areas[i + 3];
  }
  // Triangles larger than the scale put no middle within it: the kernel's own integral over a plane stands in.
  return sum / Math.max(area, (Math.PI / 3) * scale2);
}

/** The point of the nearest sharp convex edge within `withinMm`; null without one. */
function nearestSharpEdge(
  surface: SurfaceContext,
  bends: PatchBends,
  q: SurfacePoint,
  withinMm: number,
): SurfacePoint | null {
  const { positions: p, indices } = surface;
  let best = withinMm;
  let found: SurfacePoint | null = null;
  for (let i = 0; i < bends.count; i++) {
    if (bends.data[STRIDE * i + 7] < SHARP_RAD) continue;
    const h = bends.half[i];
    const a = 3 * indices[h];
    const b = 3 * indices[nextHalf(h)];
    const near = nearestOnSegment([p[a], p[a + 1], p[a + 2]], [p[b], p[b + 1], p[b + 2]], [q.x, q.y, q.z]);
    if (near.distanceMm > best) continue;
    best = near.distanceMm;
    found = pointOnEdge(surface, h, near.share);
  }
  return found;
}

function normalAt(surface: SurfaceContext, patch: SurfacePatch, q: SurfacePoint): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  const weights = [q.b0, q.b1, q.b2];
  for (let k = 0; k < 3; k++) {
    const n = patch.normals.get(surface.indices[3 * q.tri + k]);
    if (!n) continue;
    for (let c = 0; c < 3; c++) sum[c] += weights[k] * n[c];
  }
  const length = Math.hypot(...sum);
  return length > 0 ? [sum[0] / length, sum[1] / length, sum[2] / length] : [0, 0, 1];
}

/** The part of a direction square to a normal, unit; null when nothing is left. */
function tangentOf(d: Vec3, n: Vec3): Vec3 | null {
  const dot = d[0] * n[0] + d[1] * n[1] + d[2] * n[2];
  const t: Vec3 = [d[0] - dot * n[0], d[1] - dot * n[1], d[2] - dot * n[2]];
  const length = Math.hypot(...t);
  return length > 1e-3 ? [t[0] / length, t[1] / length, t[2] / length] : null;
}

function anyTangent(n: Vec3): Vec3 {
  const least = [0, 1, 2].reduce((a, k) => (Math.abs(n[k]) < Math.abs(n[a]) ? k : a), 0);
  const axis: [number, number, number] = [0, 0, 0];
  axis[least] = 1;
  return tangentOf(axis, n) as Vec3;
}

function leastBefore(values: readonly number[], i: number): number {
  let least = Infinity;
  for (let k = 0; k < i; k++) least = Math.min(least, values[k]);
  return least;
}

function leastAfter(values: readonly number[], i: number): number {
  let least = Infinity;
  for (let k = i + 1; k < values.length; k++) least = Math.min(least, values[k]);
  return least;
}

function areaOf(p: Float64Array, a: number, b: number, c: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  return 0.5 * Math.sqrt(nx * nx + ny * ny + nz * nz);
}

const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
