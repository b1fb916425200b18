import type { Vec3 } from '../mesh/TriMesh.ts';

/** Facets that meet at more than this are two faces with an edge between them, each with a draft of its own. As the view shades them. */
const CREASE_RAD = (40 * Math.PI) / 180;

const DEG_PER_RAD = 180 / Math.PI;

/**
 * Draft of a surface for a pull, at each corner of its triangles: the angle by which it leans out of the pull's own
 * direction, degrees, asin(n . pull). 90: square to the pull; 0: a wall along it; below 0: it faces away. n is the mean of
 * the facets round the corner's vertex, weighted by area, that lie within the crease angle of the corner's own, so that a
 * wall keeps its draft up to a sharp edge.
 *
 * @param positions n x 3, mm
 * @param indices 3 x triangles, counter-clockwise seen from outside
 * @param pull unit
 * @returns 3 x triangles; NaN at triangles without area
 * Cost: linear; at sharp vertices the square of their valence. Source: own.
 */
export function draftAtCorners(
  positions: ArrayLike<number>,
  indices: ArrayLike<number>,
  pull: Vec3,
): Float32Array {
  const corners = indices.length;
  const tris = corners / 3;
  // Facet normals as long as twice the facet's area, and as unit vectors.
  const whole = new Float64Array(corners);
  const unit = new Float64Array(corners);
  for (let t = 0; t < tris; t++) {
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const length = Math.sqrt(x * x + y * y + z * z);
    whole[3 * t] = x;
    whole[3 * t + 1] = y;
    whole[3 * t + 2] = z;
    if (length > 0) {
      unit[3 * t] = x / length;
      unit[3 * t + 1] = y / length;
      unit[3 * t + 2] = z / length;
    }
  }
  // Corners round each vertex, packed.
  const vertCount = positions.length / 3;
  const first = new Uint32Array(vertCount + 1);
  for (let c = 0; c < corners; c++) first[indices[c] + 1]++;
  for (let v = 0; v < vertCount; v++) first[v + 1] += first[v];
  const next = first.slice(0, vertCount);
  const around = new Uint32Array(corners);
  for (let c = 0; c < corners; c++) around[next[indices[c]]++] = c;

  const crease = Math.cos(CREASE_RAD);
  const out = new Float32Array(corners);
  for (let c = 0; c < corners; c++) {
    const own = ((c / 3) | 0) * 3;
    const ox = unit[own];
    const oy = unit[own + 1];
    const oz = unit[own + 2];
    if (ox === 0 && oy === 0 && oz === 0) {
      out[c] = Number.NaN;
      continue;
    }
    let x = 0;
    let y = 0;
    let z = 0;
    const v = indices[c];
    for (let i = first[v]; i < first[v + 1]; i++) {
      const k = ((around[i] / 3) | 0) * 3;
      if (ox * unit[k] + oy * unit[k + 1] + oz * unit[k + 2] < crease) continue;
      x += whole[k];
      y += whole[k + 1];
      z += whole[k + 2];
    }
    const along = (x * pull[0] + y * pull[1] + z * pull[2]) / Math.sqrt(x * x + y * y + z * z);
    out[c] = DEG_PER_RAD * Math.asin(Math.min(1, Math.max(-1, along)));
  }
  return out;
}
