import { buildTwins } from './buildTwins.ts';
import type { EdgeTable } from './EdgeTable.ts';
import { floodOrientation } from './floodOrientation.ts';
import { keepTris } from './keepTris.ts';
import { pairFaces } from './pairFaces.ts';
import { splitFans } from './splitFans.ts';
import type { TriMesh } from './TriMesh.ts';
import { turnFaces } from './turnFaces.ts';
import { voteOutward } from './voteOutward.ts';

/** More marks than this would cover what they mark. Own choice. */
const MOST_MIDDLES = 300;

export interface Oriented {
  /** Manifold in edges and vertices, every component counter-clockwise seen from outside. */
  readonly mesh: TriMesh;
  readonly twins: Int32Array;
  /** Faces whose winding changed. */
  readonly turned: number;
  /** Middles of the turned faces, n x 3: all when they are few, else evenly picked ones. */
  readonly turnedMiddles: Float64Array;
  /** Vertices added where sheets that touched were parted. */
  readonly parted: number;
  /** Faces that no parting made manifold, dropped. */
  readonly dropped: number;
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
    turned: turnedTris.length,
    turnedMiddles: middlesOf(input, turnedTris),
    parted: split.added,
  };
}

function middlesOf({ positions, indices }: TriMesh, tris: readonly number[]): Float64Array {
  const step = Math.max(1, Math.ceil(tris.length / MOST_MIDDLES));
  const middles: number[] = [];
  for (let i = 0; i < tris.length; i += step) {
    const e = 3 * tris[i];
    for (let k = 0; k < 3; k++) {
      middles.push(
        (positions[3 * indices[e] + k] +
          positions[3 * indices[e + 1] + k] +
          positions[3 * indices[e + 2] + k]) /
          3,
      );
    }
  }
  return Float64Array.from(middles);
}

/** Drops faces until no edge has more than two, or two in the same direction; few or none after the parting. */
function dropMeeting(mesh: TriMesh): { mesh: TriMesh; twins: Int32Array; dropped: number } {
  let indices = mesh.indices;
  for (;;) {
    const { twins, nonManifoldEdges } = buildTwins(indices);
    if (nonManifoldEdges === 0) {
      const dropped = (mesh.indices.length - indices.length) / 3;
      return { mesh: dropped > 0 ? { positions: mesh.positions, indices } : mesh, twins, dropped };
    }
    indices = dropUntwinned(indices, twins);
  }
}

/** One face of each half-edge that another face runs in the same direction. */
function dropUntwinned(indices: Uint32Array, twins: Int32Array): Uint32Array {
  const vertCount = indices.reduce((most, v) => Math.max(most, v + 1), 0);
  const isKept = new Uint8Array(indices.length / 3).fill(1);
  const seen = new Set<number>();
  for (let e = 0; e < indices.length; e++) {
    if (twins[e] >= 0) continue;
    const key = indices[e] * vertCount + indices[e % 3 === 2 ? e - 2 : e + 1];
    if (seen.has(key)) isKept[(e / 3) | 0] = 0;
    seen.add(key);
  }
  return keepTris(indices, isKept);
}
