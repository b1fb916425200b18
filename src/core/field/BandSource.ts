import { buildVertexRings, type VertexRings } from '../mesh/buildVertexRings.ts';
import type { PreparedScan } from '../mesh/PreparedScan.ts';
import { type Box, boundingBox, type TriMesh, vertCount } from '../mesh/TriMesh.ts';
import { WindingTree } from '../spatial/WindingTree.ts';
import { type OrderedSurface, orderSurface } from './OrderedSurface.ts';

/** What every field of one scan shares: the surface S without its base cap, its neighbourhood and its inside. */
export interface BandSource {
  /** The prepared mesh, vertices and triangle numbers unchanged. */
  readonly mesh: TriMesh;
  readonly twins: Int32Array;
  /** Triangles that belong to S. */
  readonly isSurface: Uint8Array;
  readonly box: Box;
  readonly standsOnBoard: boolean;
  /** Built when first asked for. */
  readonly rings: VertexRings;
  /** S with its neighbourhood, in space order. Built when first asked for. */
  readonly ordered: OrderedSurface;
  /** Built when first asked for: a clean closed surface never needs it. */
  readonly winding: WindingTree;
}

/** What of a prepared scan the field is made from. */
export type SurfaceOnBoard = Pick<PreparedScan, 'mesh' | 'twins' | 'isSurface' | 'standsOnBoard'>;

/** O(n). On a board the winding number is taken with the mesh mirrored in it, so that the open underside needs no cap. */
export function makeBandSource(scan: SurfaceOnBoard): BandSource {
  let ordered: OrderedSurface | undefined;
  let rings: VertexRings | undefined;
  let winding: WindingTree | undefined;
  return {
    mesh: scan.mesh,
    twins: scan.twins,
    isSurface: scan.isSurface,
    box: boundingBox(scan.mesh),
    standsOnBoard: scan.standsOnBoard,
    get ordered() {
      ordered ??= orderSurface(scan.mesh, scan.twins, scan.isSurface);
      return ordered;
    },
    get rings() {
      rings ??= buildVertexRings(scan.mesh.indices, vertCount(scan.mesh));
      return rings;
    },
    get winding() {
      winding ??= new WindingTree(surfaceOnly(scan), { mirrorInBoard: scan.standsOnBoard });
      return winding;
    },
  };
}

/** The triangles of S on the same vertices. */
export function surfaceOnly(scan: SurfaceOnBoard): TriMesh {
  const { indices } = scan.mesh;
  let kept = 0;
  for (let t = 0; t < scan.isSurface.length; t++) kept += scan.isSurface[t];
  if (kept === scan.isSurface.length) return scan.mesh;
  const out = new Uint32Array(kept * 3);
  let next = 0;
  for (let t = 0; t < scan.isSurface.length; t++) {
    if (scan.isSurface[t] === 0) continue;
    out[next++] = indices[3 * t];
    out[next++] = indices[3 * t + 1];
    out[next++] = indices[3 * t + 2];
  }
  return { positions: scan.mesh.positions, indices: out };
}
