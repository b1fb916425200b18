/** A surface ready for the graphics card: every vertex has one normal. */
export interface ShadedSurface {
  /** n x 3, mm. */
  readonly positions: Float32Array;
  /** n x 3, unit. */
  readonly normals: Float32Array;
  /** triCount x 3, in the order of the source's triangles. */
  readonly indices: Uint32Array;
}

/** Facets that meet at more than this are drawn with a sharp edge between them, others as one rounded form. */
const CREASE_RAD = (40 * Math.PI) / 180;

/** Two corners of a vertex whose normals agree to within this (cosine) share one vertex. */
const SAME_COSINE = 0.9995;

/**
 * The surface with normals that are smooth over gentle bends and split at creases: a corner's normal is the mean of
 * the facets around its vertex, weighted by area, that lie within the crease angle of the corner's own facet.
 * Cost: linear; at sharp vertices the square of their valence. 100 000 triangles take some 40 ms.
 */
export function creaseNormals(positions: Float32Array, indices: Uint32Array): ShadedSurface {
  const vertices = positions.length / 3;
  const corners = indices.length;
  const tris = corners / 3;

  // Facet normals: unit in `unit`, area-weighted by `area`.
  const unit = new Float32Array(corners);
  const area = new Float32Array(tris);
  for (let t = 0; t < tris; t++) {
    const a = indices[3 * t] * 3;
    const b = indices[3 * t + 1] * 3;
    const c = indices[3 * t + 2] * 3;
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    area[t] = twice;
    if (twice > 0) {
      unit[3 * t] = nx / twice;
      unit[3 * t + 1] = ny / twice;
      unit[3 * t + 2] = nz / twice;
    }
  }

  // Triangles around each vertex, packed.
  const first = new Uint32Array(vertices + 1);
  for (let k = 0; k < corners; k++) first[indices[k] + 1]++;
  for (let v = 0; v < vertices; v++) first[v + 1] += first[v];
  const fill = first.slice(0, vertices);
  const around = new Uint32Array(corners);
  for (let k = 0; k < corners; k++) around[fill[indices[k]]++] = k;

  const crease = Math.cos(CREASE_RAD);
  const halfCrease = Math.cos(CREASE_RAD / 2);
  const outIndices = new Uint32Array(corners);
  // At most one vertex a corner; cut to size at the end.
  const outPositions = new Float32Array(corners * 3);
  const outNormals = new Float32Array(corners * 3);
  let made = 0;
  for (let v = 0; v < vertices; v++) {
    const madeHere = made;

    // Most vertices are gentle: when every facet lies within half the crease angle of their mean, any two lie within
    // the whole of it, so all corners have that mean and the pairs need not be looked at.
    let mx = 0;
    let my = 0;
    let mz = 0;
    for (let i = first[v]; i < first[v + 1]; i++) {
      const tri = (around[i] / 3) | 0;
      mx += unit[3 * tri] * area[tri];
      my += unit[3 * tri + 1] * area[tri];
      mz += unit[3 * tri + 2] * area[tri];
    }
    const mean = Math.sqrt(mx * mx + my * my + mz * mz);
    let isGentle = mean > 0;
    for (let i = first[v]; isGentle && i < first[v + 1]; i++) {
      const k = ((around[i] / 3) | 0) * 3;
      isGentle = unit[k] * mx + unit[k + 1] * my + unit[k + 2] * mz >= halfCrease * mean;
    }
    if (isGentle) {
      const k = made * 3;
      outPositions[k] = positions[3 * v];
      outPositions[k + 1] = positions[3 * v + 1];
      outPositions[k + 2] = positions[3 * v + 2];
      outNormals[k] = mx / mean;
      outNormals[k + 1] = my / mean;
      outNormals[k + 2] = mz / mean;
      for (let i = first[v]; i < first[v + 1]; i++) outIndices[around[i]] = made;
      made++;
      continue;
    }

    for (let i = first[v]; i < first[v + 1]; i++) {
      const corner = around[i];
      const own = ((corner / 3) | 0) * 3;
      const ox = unit[own];
      const oy = unit[own + 1];
      const oz = unit[own + 2];
      let nx = 0;
      let ny = 0;
      let nz = 0;
      for (let j = first[v]; j < first[v + 1]; j++) {
        const tri = (around[j] / 3) | 0;
        const k = tri * 3;
        if (ox * unit[k] + oy * unit[k + 1] + oz * unit[k + 2] < crease) continue;
        nx += unit[k] * area[tri];
        ny += unit[k + 1] * area[tri];
        nz += unit[k + 2] * area[tri];
      }
      const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
      // A facet without area has no direction of its own; up is as good as any, it covers no pixel.
      if (length > 0) {
        nx /= length;
        ny /= length;
        nz /= length;
      } else {
        nx = 0;
        ny = 0;
        nz = 1;
      }
      let at = madeHere;
      while (at < made) {
        const k = at * 3;
        if (nx * outNormals[k] + ny * outNormals[k + 1] + nz * outNormals[k + 2] > SAME_COSINE) break;
        at++;
      }
      if (at === made) {
        const k = made * 3;
        outPositions[k] = positions[3 * v];
        outPositions[k + 1] = positions[3 * v + 1];
        outPositions[k + 2] = positions[3 * v + 2];
        outNormals[k] = nx;
        outNormals[k + 1] = ny;
        outNormals[k + 2] = nz;
        made++;
      }
      outIndices[corner] = at;
    }
  }
  return {
    positions: outPositions.slice(0, made * 3),
    normals: outNormals.slice(0, made * 3),
    indices: outIndices,
  };
}
