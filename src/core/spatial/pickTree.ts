import type { SerializedBVH } from 'three-mesh-bvh';
import { packTree } from './packTree.ts';

/** A tree for finding where a ray meets a surface, as plain buffers that cross a worker's border. */
export type PickTree = SerializedBVH;

/** Large leaves build faster, and a click can afford the few more triangles it looks at. */
const LEAF_TRIANGLES = 24;

/** Keeps the order of the triangles. The indices go with the picture itself. Cost: that of `packTree`. */
export function pickTree(positions: Float32Array, indices: Uint32Array): PickTree {
  const { root, order } = packTree(positions, indices, LEAF_TRIANGLES);
  // The version of the layout; three-mesh-bvh's types leave it out.
  const packed = { version: 1, roots: [root], index: null, indirectBuffer: order };
  return packed;
}
