import type { Checkpoint } from '../checkpoint.ts';
import type { Affine } from '../mesh/affine.ts';
import { mapPoints } from '../mesh/affine.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { vertNormals } from '../mesh/vertNormals.ts';
import { newClosestPoint, SurfaceTree } from '../spatial/SurfaceTree.ts';

/** Queries between two looks at the clock. */
const CHUNK = 128;
/** Nearer than this share of the body's size the two are the same point: what turning into the board's frame rounds off. */
const SAME_SHARE = 1e-9;

/**
 * How far the body that is planned stands off the scan as it came, at each vertex of the body, mm: to the exact nearest
 * point of the scan's surface. Positive: the body stands out beyond the scan (a hole was closed, filler laid on); negative:
 * it lies inside (something was cut off or moved in). The side is told by the body's own normal, so that a scan whose faces
 * are turned about does no harm. 0 where the body is the scan.
 *
 * @param scan as the file has it, in its own units and axes
 * @param fileToBoard brings it into the body's frame
 * Cost: a tree over the scan and a query a vertex, some 10 microseconds each. Cancels between chunks. Source: own.
 */
export async function distanceFromScan(
  body: TriMesh,
  scan: TriMesh,
  fileToBoard: Affine,
  cp: Checkpoint,
): Promise<Float32Array> {
  const tree = new SurfaceTree({
    positions: mapPoints(scan.positions, fileToBoard),
    indices: scan.indices,
  });
  await cp.pause(0.1);
  const { positions: p } = body;
  const normals = vertNormals(body.positions, body.indices);
  const count = p.length / 3;
  const sameMm = SAME_SHARE * sizeOf(p);
  const out = new Float32Array(count);
  const near = newClosestPoint();
  for (let v = 0; v < count; v++) {
    if (v % CHUNK === 0 && cp.due()) await cp.pause(0.1 + (0.9 * v) / count);
    tree.closestPoint(p[3 * v], p[3 * v + 1], p[3 * v + 2], near);
    if (near.distance <= sameMm) continue;
    const out3 =
      (p[3 * v] - near.point[0]) * normals[3 * v] +
      (p[3 * v + 1] - near.point[1]) * normals[3 * v + 1] +
      (p[3 * v + 2] - near.point[2]) * normals[3 * v + 2];
    out[v] = out3 < 0 ? -near.distance : near.distance;
  }
  await cp.pause(1);
  return out;
}

function sizeOf(p: Float64Array): number {
  let most = 0;
  for (let i = 0; i < p.length; i++) most = Math.max(most, Math.abs(p[i]));
  return most;
}
