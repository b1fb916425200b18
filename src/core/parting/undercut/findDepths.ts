import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { DepthSearch } from './DepthSearch.ts';
import type { SpotGroups } from './groupSpots.ts';
import type { PullFrame } from './PullFrame.ts';
import type { UndercutBody } from './UndercutBody.ts';

/** Hidden faces with an edge longer than this share of the body's size are asked between their corners too. */
const LARGEST_EDGE_SHARE = 1 / 40;

/** Parts of a face's edge at most. */
const MOST_PARTS = 24;

/** Points asked by rays for the deepest of a spot; equal ones, all along a line, would never end. */
const MOST_RAYS = 12;

/** Spots whose depth is worked out by rays; the others, the shallowest, keep that of the map. */
const MOST_REFINED = 40;

/** Halvings of the step with which the deepest point is looked for within its face. */
const FACE_STEPS = 5;

/** By spot: how deep it locks, to within what, and where. */
export interface SpotDepths {
  readonly depthMm: Float64Array;
  readonly errorMm: Float64Array;
  readonly at: readonly Vec3[];
}

/** A place that may be the deepest. */
interface Candidate {
  readonly tri: number;
  /** Weights of the first two corners. */
  readonly w0: number;
  readonly w1: number;
  /** No less than its true depth: its way to a clear pixel. */
  readonly mostMm: number;
}

/**
 * Depth at the corners of all hidden triangles from the map, into `cornerDepthMm`, and of the spots by rays.
 *
 * @param tris hidden triangles of the cut surface. Cost: 1 microsecond a corner, 20 ms for each of the deepest spots.
 */
export async function findDepths(
  body: UndercutBody,
  frame: PullFrame,
  search: DepthSearch,
  tris: Int32Array,
  groups: SpotGroups,
  cornerDepthMm: Float32Array,
  cp: Checkpoint,
): Promise<SpotDepths> {
  const deepest = await sweepCorners(body, frame, search, tris, groups, cornerDepthMm, cp);
  const depthMm = new Float64Array(groups.count);
  const errorMm = new Float64Array(groups.count);
  const at: Vec3[] = [];
  const byDepth = Array.from({ length: groups.count }, (_, n) => n);
  byDepth.sort((a, b) => (deepest[b][0]?.mostMm ?? 0) - (deepest[a][0]?.mostMm ?? 0));
  const asker = new DepthAsker(body, frame, search);
  for (let n = 0; n < byDepth.length; n++) {
    const spot = byDepth[n];
    const candidates = deepest[spot];
    const first = candidates[0];
    if (n < MOST_REFINED) {
      await cp.pause(0.5 + (0.5 * n) / Math.min(MOST_REFINED, byDepth.length));
      const found = asker.deepest(candidates, n === 0);
      depthMm[spot] = found.depthMm;
      errorMm[spot] = found.errorMm;
      at[spot] = asker.placeOf(found.at);
    } else {
      depthMm[spot] = Math.max(0, first.mostMm - search.pixelMm / 2);
      errorMm[spot] = search.pixelMm;
      at[spot] = asker.placeOf(first);
    }
  }
  return { depthMm, errorMm, at };
}

/** By spot its deepest places by the map, deepest first. */
async function sweepCorners(
  body: UndercutBody,
  frame: PullFrame,
  search: DepthSearch,
  tris: Int32Array,
  groups: SpotGroups,
  cornerDepthMm: Float32Array,
  cp: Checkpoint,
): Promise<Candidate[][]> {
  const { cut, diagonalMm } = body;
  const asker = new DepthAsker(body, frame, search);
  const best: Candidate[][] = Array.from({ length: groups.count }, () => []);
  const keep = (spot: number, candidate: Candidate): void => {
    const list = best[spot];
    if (list.length === MOST_RAYS + 1 && candidate.mostMm <= list[MOST_RAYS].mostMm) return;
    // The same corner comes by with each of its triangles.
    if (list.some((known) => known.mostMm === candidate.mostMm)) return;
    let n = list.length;
    while (n > 0 && list[n - 1].mostMm < candidate.mostMm) n--;
    list.splice(n, 0, candidate);
    if (list.length > MOST_RAYS + 1) list.pop();
  };
  const farOfVert = new Map<number, number>();
  for (let n = 0; n < tris.length; n++) {
    if ((n & 255) === 0 && cp.due()) await cp.pause((0.5 * n) / tris.length);
    const t = tris[n];
    const spot = groups.groupOf[n];
    for (let k = 0; k < 3; k++) {
      const vert = cut.indices[3 * t + k];
      let far = farOfVert.get(vert);
      const w0 = k === 0 ? 1 : 0;
      const w1 = k === 1 ? 1 : 0;
      if (far === undefined) {
        far = asker.wayAt(t, w0, w1);
        farOfVert.set(vert, far);
      }
      cornerDepthMm[3 * t + k] = Math.max(0, far - search.pixelMm / 2);
      keep(spot, { tri: t, w0, w1, mostMm: far });
    }
    const parts = Math.min(MOST_PARTS, Math.ceil(asker.longestEdgeMm(t) / (LARGEST_EDGE_SHARE * diagonalMm)));
    for (let i = 0; i <= parts && parts > 1; i++) {
      for (let j = 0; j <= parts - i; j++) {
        const [w0, w1] = [i / parts, j / parts];
        keep(spot, { tri: t, w0, w1, mostMm: asker.wayAt(t, w0, w1) });
      }
    }
  }
  return best;
}

/** Asks for the depth of places of the cut surface. */
class DepthAsker {
  constructor(
    private readonly body: UndercutBody,
    private readonly frame: PullFrame,
    private readonly search: DepthSearch,
  ) {}

  /** Way from a place to the nearest clear pixel, mm; 0 where nothing is clear at all: only the board is then in the way. */
  wayAt(tri: number, w0: number, w1: number): number {
    const [u, v, h] = this.coordinates(tri, w0, w1);
    const far = this.search.nearestClear(u, v, h);
    return far === Infinity ? 0 : far;
  }

  /**
   * The deepest of the candidates (deepest by the map first), by rays. The map's ways are never too short, so the search ends as soon as the next
   * cannot be deeper than what was found; when it is broken off before, the error says so.
   */
  deepest(
    candidates: readonly Candidate[],
    isWorst: boolean,
  ): { depthMm: number; errorMm: number; at: Candidate } {
    let depthMm = -1;
    let errorMm = 0;
    let at = candidates[0];
    const most = isWorst ? MOST_RAYS : 2;
    let asked = 0;
    for (; asked < candidates.length && asked < most; asked++) {
      const candidate = candidates[asked];
      if (candidate.mostMm <= depthMm) break;
      const found = this.refined(candidate);
      if (found.depthMm <= depthMm) continue;
      depthMm = found.depthMm;
      errorMm = found.errorMm;
      at = candidate;
    }
    const next = candidates[asked]?.mostMm ?? 0;
    if (isWorst) {
      const climbed = this.climb(at, depthMm, errorMm);
      depthMm = climbed.depthMm;
      errorMm = climbed.errorMm;
      at = climbed.at;
    }
    return { depthMm, errorMm: Math.max(errorMm, next - depthMm), at };
  }

  /** Looks for a deeper place within the face by steps to its corners, halved when none is deeper. */
  private climb(
    from: Candidate,
    fromMm: number,
    fromErrorMm: number,
  ): { depthMm: number; errorMm: number; at: Candidate } {
    let at = from;
    let depthMm = fromMm;
    let errorMm = fromErrorMm;
    let step = 0.5;
    for (let n = 0; n < FACE_STEPS; ) {
      let isDeeper = false;
      for (let k = 0; k < 3 && !isDeeper; k++) {
        const w0 = at.w0 + step * ((k === 0 ? 1 : 0) - at.w0);
        const w1 = at.w1 + step * ((k === 1 ? 1 : 0) - at.w1);
        // The map first: its way is never too short.
        const mostMm = this.wayAt(at.tri, w0, w1);
        if (mostMm <= depthMm) continue;
        const found = this.refined({ tri: at.tri, w0, w1, mostMm });
        if (found.depthMm <= depthMm + this.search.pixelMm / 1000) continue;
        depthMm = found.depthMm;
        errorMm = found.errorMm;
        at = { tri: at.tri, w0, w1, mostMm };
        isDeeper = true;
      }
      if (isDeeper) continue;
      step /= 2;
      n++;
    }
    // What is left between the places asked: depth changes no faster than one moves.
    return { depthMm, errorMm: errorMm + step * this.lateralEdgeMm(at.tri), at };
  }

  private refined({ tri, w0, w1 }: Candidate): { depthMm: number; errorMm: number } {
    const [u, v, h] = this.coordinates(tri, w0, w1);
    return this.search.refine(u, v, h) ?? { depthMm: 0, errorMm: 0 };
  }

  placeOf({ tri, w0, w1 }: Candidate): Vec3 {
    const { positions, indices } = this.body.cut;
    const a = 3 * indices[3 * tri];
    const b = 3 * indices[3 * tri + 1];
    const c = 3 * indices[3 * tri + 2];
    const w2 = 1 - w0 - w1;
    const along = (k: number): number =>
      w0 * positions[a + k] + w1 * positions[b + k] + w2 * positions[c + k];
    return [along(0), along(1), along(2)];
  }

  longestEdgeMm(tri: number): number {
    const corners = [this.placeAt(tri, 0), this.placeAt(tri, 1), this.placeAt(tri, 2)];
    return Math.max(
      ...corners.map((p, k) => {
        const q = corners[(k + 1) % 3];
        return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
      }),
    );
  }

  private lateralEdgeMm(tri: number): number {
    const corners = [this.coordinates(tri, 1, 0), this.coordinates(tri, 0, 1), this.coordinates(tri, 0, 0)];
    return Math.max(
      ...corners.map((p, k) => Math.hypot(p[0] - corners[(k + 1) % 3][0], p[1] - corners[(k + 1) % 3][1])),
    );
  }

  private placeAt(tri: number, corner: number): Vec3 {
    const at = 3 * this.body.cut.indices[3 * tri + corner];
    const p = this.body.cut.positions;
    return [p[at], p[at + 1], p[at + 2]];
  }

  private coordinates(tri: number, w0: number, w1: number): Vec3 {
    const [x, y, z] = this.placeOf({ tri, w0, w1, mostMm: 0 });
    const { u, v, d } = this.frame;
    return [x * u[0] + y * u[1] + z * u[2], x * v[0] + y * v[1] + z * v[2], x * d[0] + y * d[1] + z * d[2]];
  }
}
