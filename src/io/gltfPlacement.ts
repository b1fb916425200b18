import type { JsonNode } from './JsonNode.ts';
import type { Placement } from './Placement.ts';

/**
 * The placement of a node in its parent (glTF 2.0 specification, 3.5.3 "Transformations"): its matrix, written column by
 * column, or its translation, rotation (a quaternion x y z w) and scale, applied in the order scale, rotation, translation.
 */
export function gltfPlacement(node: JsonNode): Placement {
  const matrix = node.get('matrix');
  if (!matrix.isAbsent) {
    const m = matrix.numbers(16, []);
    return [m[0], m[4], m[8], m[12], m[1], m[5], m[9], m[13], m[2], m[6], m[10], m[14]];
  }
  const [tx, ty, tz] = node.get('translation').numbers(3, [0, 0, 0]);
  const [sx, sy, sz] = node.get('scale').numbers(3, [1, 1, 1]);
  const [x, y, z, w] = unit(node.get('rotation').numbers(4, [0, 0, 0, 1]));
  return [
    sx * (1 - 2 * (y * y + z * z)),
    sy * (2 * (x * y - w * z)),
    sz * (2 * (x * z + w * y)),
    tx,
    sx * (2 * (x * y + w * z)),
    sy * (1 - 2 * (x * x + z * z)),
    sz * (2 * (y * z - w * x)),
    ty,
    sx * (2 * (x * z - w * y)),
    sy * (2 * (y * z + w * x)),
    sz * (1 - 2 * (x * x + y * y)),
    tz,
  ];
}

/** Files round quaternions; one of no length turns nothing. */
function unit(q: readonly number[]): readonly number[] {
  const length = Math.hypot(...q);
  return length > 0 && length !== 1 ? q.map((x) => x / length) : length > 0 ? q : [0, 0, 0, 1];
}
