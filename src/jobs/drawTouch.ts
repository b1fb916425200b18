import type { Checkpoint } from '../core/checkpoint.ts';
import { boundingBox, type TriMesh, type Vec3 } from '../core/mesh/TriMesh.ts';
import { vertNormals } from '../core/mesh/vertNormals.ts';
import { writeTriNormal } from '../core/mesh/writeNormal.ts';
import { castHeights } from '../core/parting/undercut/castHeights.ts';
import { type HeightMap, pixelAt } from '../core/parting/undercut/HeightMap.ts';
import { frameOf } from '../core/parting/undercut/PullFrame.ts';
import { newClosestPoint, type SurfaceTree } from '../core/spatial/SurfaceTree.ts';
import type { SurfacePicture, TouchPicture } from './protocol.ts';

/** A ray is taken up again so far behind its last hit, share of the slack: the same triangle must not be met twice. */
const STEP_SHARE = 1e-3;
/** Surfaces that one ray may pass within the slack before it is given up: crumpled scans lie in many folds. */
const MOST_GRAZES = 8;
const PAUSE_EVERY = 256;
/** The map that tells which vertices have rubber ahead has no more pixels than this along a side. */
const MAP_PIXELS = 1400;

type RubberTree = Pick<SurfaceTree, 'firstHit' | 'closestPoint'>;

/**
 * Where each vertex of a shell is inside the rubber while its piece slides along its pull: from the first entry to the
 * exit after it, mm of slide; Infinity both where it never is. Vertices are first taken back into the shell by `slackMm`,
 * so that neither the drawn shell's own roughness nor what the rubber yields counts as touching.
 *
 * @param rubber the obstacle, wound outward; `tree` holds the same triangles
 * @param pull unit
 * @throws the checkpoint's abort reason
 * Cost: one height map; one look at it a vertex, and rays (5 to 20 microseconds) for those that have rubber ahead.
 * Limits: the map's pixels are as wide as the slack, so that rubber thinner than it may be passed over.
 */
export async function drawTouch(
  rubber: TriMesh,
  tree: RubberTree,
  shell: SurfacePicture,
  pull: Vec3,
  slackMm: number,
  cp: Checkpoint,
): Promise<TouchPicture> {
  const { positions } = shell;
  const count = positions.length / 3;
  const fromMm = new Float32Array(count).fill(Infinity);
  const toMm = new Float32Array(count).fill(Infinity);
  const inward = unitNormals(shell);
  const ahead = mapAhead(rubber, pull, slackMm);
  const start: [number, number, number] = [0, 0, 0];
  for (let v = 0; v < count; v++) {
    if (v % PAUSE_EVERY === 0 && cp.due()) await cp.pause(v / count);
    for (let k = 0; k < 3; k++) start[k] = positions[3 * v + k] - slackMm * inward[3 * v + k];
    if (!isBelow(ahead, start)) continue;
    const span = insideSpan(rubber, tree, start, pull, slackMm);
    if (span === null) continue;
    fromMm[v] = span[0];
    toMm[v] = span[1];
  }
  return { fromMm, toMm };
}

/** How high the rubber reaches along the pull. */
function mapAhead(rubber: TriMesh, pull: Vec3, slackMm: number): HeightMap {
  const { min, max } = boundingBox(rubber);
  const diagonalMm = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const pixelMm = Math.max(slackMm, diagonalMm / MAP_PIXELS);
  return castHeights(rubber.positions, rubber.indices, frameOf(pull), null, pixelMm);
}

/** True when the body of the map reaches higher than the point, over the point's pixel. */
function isBelow(map: HeightMap, [x, y, z]: readonly [number, number, number]): boolean {
  const { u, v, d } = map.frame;
  const pixel = pixelAt(map, x * u[0] + y * u[1] + z * u[2], x * v[0] + y * v[1] + z * v[2]);
  return pixel >= 0 && x * d[0] + y * d[1] + z * d[2] < map.top[pixel];
}

/**
 * The first stretch of the slide, longer than the slack, in which the point is in the rubber; null when there is none. A
 * point that begins in the rubber was drawn into it: the shell itself lies on it, so it is first put before the nearest
 * surface, off by the slack.
 */
function insideSpan(
  rubber: TriMesh,
  tree: RubberTree,
  start: readonly [number, number, number],
  pull: Vec3,
  slackMm: number,
): readonly [number, number] | null {
  const first = tree.firstHit(start, pull);
  if (first === null) return null;
  if (!leavesAt(rubber, first.tri, pull)) return spanFrom(rubber, tree, start, pull, slackMm);
  const near = newClosestPoint();
  tree.closestPoint(start[0], start[1], start[2], near);
  const n = new Float64Array(3);
  const length = writeTriNormal(rubber, near.tri, n);
  if (length === 0) return null;
  const off = slackMm / length;
  return spanFrom(
    rubber,
    tree,
    [near.point[0] + off * n[0], near.point[1] + off * n[1], near.point[2] + off * n[2]],
    pull,
    slackMm,
  );
}

/** As `insideSpan`, of a point outside the rubber. */
function spanFrom(
  rubber: TriMesh,
  tree: RubberTree,
  start: readonly [number, number, number],
  pull: Vec3,
  slackMm: number,
): readonly [number, number] | null {
  let at = 0;
  let entry = -1;
  for (let graze = 0; graze < MOST_GRAZES; graze++) {
    const hit = tree.firstHit(
      [start[0] + at * pull[0], start[1] + at * pull[1], start[2] + at * pull[2]],
      pull,
    );
    if (hit === null) return null;
    const along = at + hit.distance;
    if (!leavesAt(rubber, hit.tri, pull)) entry = along;
    else if (entry >= 0 && along - entry > slackMm) return [entry, along];
    at = along + STEP_SHARE * slackMm;
  }
  return null;
}

/** True when a ray along `pull` goes from inside to outside through this triangle. */
function leavesAt(rubber: TriMesh, tri: number, pull: Vec3): boolean {
  const n = new Float64Array(3);
  writeTriNormal(rubber, tri, n);
  return n[0] * pull[0] + n[1] * pull[1] + n[2] * pull[2] > 0;
}

/** n x 3, unit, outward; weighted by area. Zero for a vertex without triangles. */
function unitNormals({ positions, indices }: SurfacePicture): Float64Array {
  const normals = vertNormals(positions, indices);
  for (let v = 0; v < normals.length; v += 3) {
    const length = Math.hypot(normals[v], normals[v + 1], normals[v + 2]);
    if (length === 0) continue;
    normals[v] /= length;
    normals[v + 1] /= length;
    normals[v + 2] /= length;
  }
  return normals;
}
