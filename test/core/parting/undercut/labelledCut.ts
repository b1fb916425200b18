import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { chainSegments } from '../../../../src/core/parting/chainSegments.ts';
import { nextHalf, SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { allLoose, type CutSurface, NO_REGION } from '../../../../src/core/parting/types.ts';
import {
  measureUndercut,
  type UndercutInput,
} from '../../../../src/core/parting/undercut/measureUndercut.ts';
import type { UndercutStep } from '../../../../src/core/parting/undercut/UndercutStep.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

/** The piece of a triangle by its middle; the parting lines then run along edges of the mesh, so the mesh must have them there. */
export type LabelOf = (x: number, y: number, z: number) => number;

/** A surface parted by a label per triangle instead of drawn lines: exact lines for bodies with exact answers. */
export function labelledCut(surface: SurfaceContext, regionCount: number, labelOf: LabelOf): CutSurface {
  const { positions, indices, triCount, isSurface, links } = surface;
  const triRegion = new Int32Array(triCount).fill(NO_REGION);
  const source: number[] = [];
  for (let t = 0; t < triCount; t++) {
    if (!isSurface[t]) continue;
    const middle = [0, 0, 0];
    for (let k = 0; k < 3; k++)
      for (let c = 0; c < 3; c++) middle[c] += positions[3 * indices[3 * t + k] + c] / 3;
    triRegion[t] = labelOf(middle[0], middle[1], middle[2]);
    source.push(t);
  }
  const ends: number[] = [];
  const [tri, left, right]: number[][] = [[], [], []];
  for (let h = 0; h < links.length; h++) {
    const t = Math.floor(h / 3);
    if (!isSurface[t] || links[h] < h) continue;
    const other = triRegion[Math.floor(links[h] / 3)];
    if (other === triRegion[t]) continue;
    // Half-edges run counter-clockwise round their triangle: it lies to their left. The lower region is kept there.
    const isTurned = triRegion[t] > other;
    const [from, to] = isTurned ? [indices[nextHalf(h)], indices[h]] : [indices[h], indices[nextHalf(h)]];
    ends.push(...positions.subarray(3 * from, 3 * from + 3), ...positions.subarray(3 * to, 3 * to + 3));
    tri.push(t);
    left.push(Math.min(triRegion[t], other));
    right.push(Math.max(triRegion[t], other));
  }
  return {
    regionCount,
    triRegion,
    positions,
    indices: Uint32Array.from(source.flatMap((t) => [...indices.subarray(3 * t, 3 * t + 3)])),
    cutTriRegion: Int32Array.from(source, (t) => triRegion[t]),
    cutTriSource: Int32Array.from(source),
    segments: {
      count: tri.length,
      ends: Float64Array.from(ends),
      tri: Int32Array.from(tri),
      left: Int32Array.from(left),
      right: Int32Array.from(right),
      path: new Int32Array(tri.length),
    },
    parts: allLoose(source.length),
  };
}

export interface LabelledBody {
  readonly mesh: TriMesh;
  readonly pulls: readonly Vec3[];
  readonly labelOf?: LabelOf;
  readonly standsOnBoard?: boolean;
  readonly giveMm?: number;
  readonly shellMm?: number;
  /** Triangles left out of the rubber's outward surface: what is kept clear. */
  readonly isClear?: (tri: number) => boolean;
}

/** What `measureUndercut` is asked about such a body. */
export function undercutInput({
  mesh,
  pulls,
  labelOf = () => 0,
  standsOnBoard = false,
  giveMm = 0,
  shellMm = 5,
  isClear = () => false,
}: LabelledBody): UndercutInput {
  const { positions, indices } = mesh;
  // What lies flat on the board is the base cap, not the rubber's outward surface.
  const isCap = (t: number): boolean => {
    const corners = [0, 1, 2].map((k) => 3 * indices[3 * t + k]);
    if (standsOnBoard && corners.every((at) => positions[at + 2] === 0)) return true;
    return isClear(t);
  };
  const surface = new SurfaceContext(preparedFromMesh(mesh, standsOnBoard, isCap));
  const cut = labelledCut(surface, pulls.length, labelOf);
  return { surface, cut, chains: chainSegments(cut.segments), pulls, giveMm, shellMm, standsOnBoard };
}

export const undercutOf = (body: LabelledBody): Promise<UndercutStep> =>
  measureUndercut(undercutInput(body), new Checkpoint());
