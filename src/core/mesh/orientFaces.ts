import { buildTwins } from './buildTwins.ts';
import type { EdgeTable } from './EdgeTable.ts';
import { floodOrientation } from './floodOrientation.ts';
import { droppedTris, keepTris } from './keepTris.ts';
import { labelParts, type Parts } from './labelParts.ts';
import { pairFaces } from './pairFaces.ts';
import { splitFans } from './splitFans.ts';
import type { TriMesh } from './TriMesh.ts';
import { turnFaces } from './turnFaces.ts';
import { voteOutward } from './voteOutward.ts';

export interface Oriented {
  /** Manifold in edges and vertices, every component counter-clockwise seen from outside. */
  readonly mesh: TriMesh;
  readonly twins: Int32Array;
  readonly parts: Parts;
  /** Faces whose winding changed. */
  readonly turned: number;
  /** The same faces by their numbers in what was given. */
  readonly turnedTris: readonly number[];
  /** Vertices added where sheets that touched were parted. */
  readonly parted: number;
  /** Where, n x 3. */
  readonly partedAt: Float64Array;
  /** Faces that no parting made manifold, dropped. */
  readonly dropped: number;
  /** Those faces. */
  readonly droppedMesh: TriMesh;
}

/**
 * Takes the surface apart into manifold sheets and winds each outward: faces are paired across edges (by angle where more
 * than two meet), one orientation is spread over each component, and a vote tells its outside. O(n).
 */
export function orientFaces(input: TriMesh, table: EdgeTable): Oriented {
  const partners = pairFaces(input, table);
  const { parts, partCount, isTurned } = floodOrientation(input.indices, partners);
  const indices = input.indices.slice();
  turnFaces(indices, partners, isTurned);
  const isInsideOut = voteOutward(
    { positions: input.positions, indices },
    partners,
    parts,
    partCount,
    isTurned,
  );
  const isTurnedNow = new Uint8Array(parts.length);
  const turnedTris: number[] = [];
  for (let t = 0; t < parts.length; t++) {
    isTurnedNow[t] = isInsideOut[parts[t]];
    if (isTurned[t] !== isTurnedNow[t]) turnedTris.push(t);
  }
  turnFaces(indices, partners, isTurnedNow);
  const split = splitFans({ positions: input.positions, indices }, partners);
  const rest = dropMeeting(split.mesh);
  return {
    ...rest,
    parts: labelParts(rest.twins),
    turned: turnedTris.length,
    turnedTris,
    parted: split.added,
    partedAt: split.addedAt,
  };
}

/**
 * As `orientFaces` does, for a surface whose edges have two faces at most, wound alike, with its `twins` (not changed). Null where
 * it must do more than look: where sheets touch in a point, or a part is inside out.
 *
 * @param isOnePart all faces are joined by shared vertices. Where each vertex has one fan they are then joined by edges too.
 */
export function orientManifold(mesh: TriMesh, twins: Int32Array, isOnePart: boolean): Oriented | null {
  if (splitFans(mesh, twins).added > 0) return null;
  const triCount = twins.length / 3;
  const parts = isOnePart ? { parts: new Int32Array(triCount), partCount: 1 } : labelParts(twins);
  const isTurned = new Uint8Array(triCount);
  if (voteOutward(mesh, twins, parts.parts, parts.partCount, isTurned).includes(1)) return null;
  const { positions } = mesh;
  return {
    mesh,
    twins,
    parts,
    turned: 0,
    turnedTris: [],
    parted: 0,
    partedAt: new Float64Array(0),
    dropped: 0,
    droppedMesh: { positions, indices: new Uint32Array(0) },
  };
}

/** Drops faces until no edge has more than two, or two in the same direction; few or none after the parting. */
function dropMeeting(mesh: TriMesh): {
  mesh: TriMesh;
  twins: Int32Array;
  dropped: number;
  droppedMesh: TriMesh;
} {
  const { positions } = mesh;
  let indices = mesh.indices;
  const gone: number[] = [];
  for (;;) {
    const { twins, nonManifoldEdges } = buildTwins(indices);
    if (nonManifoldEdges === 0) {
      const dropped = (mesh.indices.length - indices.length) / 3;
      return {
        mesh: dropped > 0 ? { positions, indices } : mesh,
        twins,
        dropped,
        droppedMesh: { positions, indices: Uint32Array.from(gone) },
      };
    }
    indices = dropUntwinned(indices, twins, gone);
  }
}

/** Without one face of each half-edge that another face runs in the same direction; its corners are added to `gone`. */
function dropUntwinned(indices: Uint32Array, twins: Int32Array, gone: number[]): Uint32Array {
  const vertCount = indices.reduce((most, v) => Math.max(most, v + 1), 0);
  const isKept = new Uint8Array(indices.length / 3).fill(1);
  const seen = new Set<number>();
  for (let e = 0; e < indices.length; e++) {
    if (twins[e] >= 0) continue;
    const key = indices[e] * vertCount + indices[e % 3 === 2 ? e - 2 : e + 1];
    if (seen.has(key)) isKept[(e / 3) | 0] = 0;
    seen.add(key);
  }
  for (const t of droppedTris(isKept)) gone.push(indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]);
  return keepTris(indices, isKept);
}
