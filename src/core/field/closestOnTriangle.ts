/** Which part of a triangle holds its nearest point. CORNER + k and EDGE + k: corner k, edge from corner k to (k+1)%3. */
export const FACE = 0;
export const CORNER = 1;
export const EDGE = 4;

/**
 * Nearest point of triangle `tri` to x y z: writes the point to out[0..2] and the squared distance to out[3], returns the
 * part of the triangle (FACE, CORNER + k, EDGE + k) that holds it.
 *
 * Source: regions of the barycentric plane, C. Ericson, Real-Time Collision Detection, 2005, section 5.1.5.
 * Zero-area triangles give a corner or an edge, never NaN, as long as two corners differ.
 */
export function closestOnTriangle(
  positions: Float64Array,
  indices: Uint32Array,
  tri: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): number {
  const a = indices[3 * tri] * 3;
  const b = indices[3 * tri + 1] * 3;
  const c = indices[3 * tri + 2] * 3;
  return closestOnCorners(positions, a, b, c, x, y, z, out);
}

/** As `closestOnTriangle`, the triangle given by the indices a b c of its corners' x in `positions`. */
export function closestOnCorners(
  positions: Float64Array,
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): number {
  const ax = positions[a];
  const ay = positions[a + 1];
  const az = positions[a + 2];
  const abx = positions[b] - ax;
  const aby = positions[b + 1] - ay;
  const abz = positions[b + 2] - az;
  const acx = positions[c] - ax;
  const acy = positions[c + 1] - ay;
  const acz = positions[c + 2] - az;
  const apx = x - ax;
  const apy = y - ay;
  const apz = z - az;
  let v = 0;
  let w = 0;
  let part = FACE;
  const d1 = abx * apx + aby * apy + abz * apz;
  const d2 = acx * apx + acy * apy + acz * apz;
  if (d1 <= 0 && d2 <= 0) {
    part = CORNER;
  } else {
    const ab2 = abx * abx + aby * aby + abz * abz;
    const abac = abx * acx + aby * acy + abz * acz;
    const ac2 = acx * acx + acy * acy + acz * acz;
    // d3..d6 are the same products taken from corners b and c.
    const d3 = d1 - ab2;
    const d4 = d2 - abac;
    const d5 = d1 - abac;
    const d6 = d2 - ac2;
    const vc = d1 * d4 - d3 * d2;
    const vb = d5 * d2 - d1 * d6;
    const va = d3 * d6 - d5 * d4;
    if (d3 >= 0 && d4 <= d3) {
      v = 1;
      part = CORNER + 1;
    } else if (vc <= 0 && d1 >= 0 && d3 <= 0) {
      v = d1 / (d1 - d3);
      part = EDGE;
    } else if (d6 >= 0 && d5 <= d6) {
      w = 1;
      part = CORNER + 2;
    } else if (vb <= 0 && d2 >= 0 && d6 <= 0) {
      w = d2 / (d2 - d6);
      part = EDGE + 2;
    } else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
      w = (d4 - d3) / (d4 - d3 + (d5 - d6));
      v = 1 - w;
      part = EDGE + 1;
    } else {
      const denominator = 1 / (va + vb + vc);
      v = vb * denominator;
      w = vc * denominator;
    }
  }
  const px = ax + abx * v + acx * w;
  const py = ay + aby * v + acy * w;
  const pz = az + abz * v + acz * w;
  out[0] = px;
  out[1] = py;
  out[2] = pz;
  const dx = x - px;
  const dy = y - py;
  const dz = z - pz;
  out[3] = dx * dx + dy * dy + dz * dz;
  return part;
}
