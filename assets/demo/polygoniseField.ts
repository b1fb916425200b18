import type { ShapeField } from './fishShape.ts';

export interface DemoMesh {
  /** n x 3, mm. */
  readonly positions: Float64Array;
  /** m x 3, counter-clockwise seen from outside. */
  readonly indices: Uint32Array;
}

/** Rounds of evening out the triangles; more change nothing that can be seen. */
const RELAX_ROUNDS = 5;
/** Nodes along the side of a block that is skipped as a whole. */
const COARSE = 4;

/**
 * The surface field = 0 above z = 0 as triangles of about the cell's size, open at z = 0 with its rim exactly there.
 * Method: one vertex a crossed cell, one quad a crossed edge (the dual of a grid; Gibson 1998, "Constrained elastic
 * surface nets"), then vertices slide along the surface to even out and are brought back onto it by Newton's step.
 * Needs the wall at z = 0 to be upright. The box must hold the shape; `min[2]` is raised or lowered to put a row of
 * cell middles at z = 0.
 */
export function polygoniseField(
  field: ShapeField,
  min: readonly [number, number, number],
  max: readonly [number, number, number],
  cellMm: number,
): DemoMesh {
  const nx = Math.ceil((max[0] - min[0]) / cellMm) + 1;
  const ny = Math.ceil((max[1] - min[1]) / cellMm) + 1;
  const below = 1;
  const z0 = -(below + 0.5) * cellMm;
  const nz = Math.ceil((max[2] - z0) / cellMm) + 1;
  const values = new Float64Array(nx * ny * nz);
  // First on every fourth node: blocks that the surface cannot reach take their corner's value, and most can't be reached.
  const reachMm = COARSE * cellMm * 2.6;
  for (let k = 0; k < nz; k += COARSE) {
    for (let j = 0; j < ny; j += COARSE) {
      for (let i = 0; i < nx; i += COARSE) {
        const mid = (COARSE - 1) / 2;
        const about = field(
          min[0] + (i + mid) * cellMm,
          min[1] + (j + mid) * cellMm,
          z0 + (k + mid) * cellMm,
        );
        const isFar = Math.abs(about) > reachMm;
        for (let kk = k; kk < Math.min(nz, k + COARSE); kk++) {
          for (let jj = j; jj < Math.min(ny, j + COARSE); jj++) {
            for (let ii = i; ii < Math.min(nx, i + COARSE); ii++) {
              values[(kk * ny + jj) * nx + ii] = isFar
                ? about
                : field(min[0] + ii * cellMm, min[1] + jj * cellMm, z0 + kk * cellMm);
            }
          }
        }
      }
    }
  }

  composeWell(values, nx, ny, nz);

  // One vertex in every cell that the surface crosses, at the mean of the crossings of its edges.
  const cellVert = new Int32Array(values.length).fill(-1);
  const verts: number[] = [];
  const corner = [0, 1, nx, nx + 1, nx * ny, nx * ny + 1, nx * ny + nx, nx * ny + nx + 1];
  for (let k = below; k < nz - 1; k++) {
    for (let j = 0; j < ny - 1; j++) {
      for (let i = 0; i < nx - 1; i++) {
        const cell = (k * ny + j) * nx + i;
        let sumX = 0;
        let sumY = 0;
        let sumZ = 0;
        let crossings = 0;
        for (let a = 0; a < 8; a++) {
          for (let bit = 1; bit < 8; bit <<= 1) {
            if (a & bit) continue;
            const b = a | bit;
            const va = values[cell + corner[a]];
            const vb = values[cell + corner[b]];
            if (va < 0 === vb < 0) continue;
            const t = va / (va - vb);
            sumX += (a & 1) + (bit === 1 ? t : 0);
            sumY += ((a >> 1) & 1) + (bit === 2 ? t : 0);
            sumZ += ((a >> 2) & 1) + (bit === 4 ? t : 0);
            crossings++;
          }
        }
        if (crossings === 0) continue;
        cellVert[cell] = verts.length / 3;
        verts.push(
          min[0] + (i + sumX / crossings) * cellMm,
          min[1] + (j + sumY / crossings) * cellMm,
          k === below ? 0 : z0 + (k + sumZ / crossings) * cellMm,
        );
      }
    }
  }

  const quads: number[] = [];
  const step = [1, nx, nx * ny];
  for (let k = below; k < nz - 1; k++) {
    for (let j = 1; j < ny - 1; j++) {
      for (let i = 1; i < nx - 1; i++) {
        const node = (k * ny + j) * nx + i;
        for (let axis = 0; axis < 3; axis++) {
          // Edges in the lowest plane of nodes would join to cells below the board.
          if (axis !== 2 && k === below) continue;
          const inside = values[node] < 0;
          if (inside === values[node + step[axis]] < 0) continue;
          const u = step[(axis + 1) % 3];
          const w = step[(axis + 2) % 3];
          const ring = [cellVert[node - u - w], cellVert[node - w], cellVert[node], cellVert[node - u]];
          if (ring.some((vert) => vert < 0)) throw new Error('The box is too small for the shape.');
          if (inside) quads.push(ring[0], ring[1], ring[2], ring[3]);
          else quads.push(ring[3], ring[2], ring[1], ring[0]);
        }
      }
    }
  }

  const positions = Float64Array.from(verts);
  relax(field, positions, quads, cellMm);
  return { positions, indices: splitQuads(positions, quads) };
}

/**
 * Where inside and outside nodes meet like the squares of a chessboard, over a face or through a cube, the quads would
 * meet in one edge or vertex. The outer node nearest to the surface goes inside there until no such place is left; what that
 * moves is put back on the surface afterwards. (Latecki, Eckhardt and Rosenfeld 1995, "Well-composed sets".)
 */
function composeWell(values: Float64Array, nx: number, ny: number, nz: number): void {
  const step = [1, nx, nx * ny];
  const all = step[0] + step[1] + step[2];
  for (let isDone = false; !isDone; ) {
    isDone = true;
    const part = (nodes: readonly number[]): void => {
      // Only ever outside to inside, so that this comes to an end.
      const outside = nodes.filter((node) => values[node] >= 0);
      values[outside.reduce((a, b) => (values[a] <= values[b] ? a : b))] = -1e-6;
      isDone = false;
    };
    for (let k = 0; k < nz - 1; k++) {
      for (let j = 0; j < ny - 1; j++) {
        for (let i = 0; i < nx - 1; i++) {
          const n = (k * ny + j) * nx + i;
          for (let axis = 0; axis < 3; axis++) {
            const u = step[axis];
            const w = step[(axis + 1) % 3];
            const a = values[n] < 0;
            if (a === values[n + u + w] < 0 && a !== values[n + u] < 0 && a !== values[n + w] < 0) {
              part([n, n + u, n + w, n + u + w]);
            }
          }
          for (const d of [0, step[0], step[1], step[2]]) {
            const one = n + d;
            const other = n + all - d;
            const a = values[one] < 0;
            if (a !== values[other] < 0) continue;
            const isAlone = step.every((e) => {
              const first = d === e ? one - e : one + e;
              const second = d === e ? other + e : other - e;
              return a !== values[first] < 0 && a !== values[second] < 0;
            });
            if (isAlone) part(a ? [one + (d === step[0] ? -step[0] : step[0])] : [one, other]);
          }
        }
      }
    }
  }
}

/** Slides vertices toward the mean of their neighbours along the surface, then back onto it. Rim vertices stay at z = 0. */
function relax(field: ShapeField, positions: Float64Array, quads: readonly number[], cellMm: number): void {
  const count = positions.length / 3;
  const isRim = new Uint8Array(count);
  for (let v = 0; v < count; v++) isRim[v] = positions[v * 3 + 2] === 0 ? 1 : 0;
  const sums = new Float64Array(count * 3);
  const counts = new Uint16Array(count);
  const e = cellMm * 0.02;
  for (let round = 0; round < RELAX_ROUNDS; round++) {
    sums.fill(0);
    counts.fill(0);
    for (let q = 0; q < quads.length; q += 4) {
      for (let c = 0; c < 4; c++) {
        const a = quads[q + c];
        const b = quads[q + ((c + 1) % 4)];
        join(a, b);
        join(b, a);
      }
    }
    for (let v = 0; v < count; v++) {
      const p = v * 3;
      let x = positions[p];
      let y = positions[p + 1];
      let z = positions[p + 2];
      for (let part = 0; part < 3; part++) {
        const f = field(x, y, z);
        let gx = (field(x + e, y, z) - field(x - e, y, z)) / (2 * e);
        let gy = (field(x, y + e, z) - field(x, y - e, z)) / (2 * e);
        let gz = isRim[v] ? 0 : (field(x, y, z + e) - field(x, y, z - e)) / (2 * e);
        const g2 = gx * gx + gy * gy + gz * gz;
        if (g2 < 0.01) break;
        if (part === 0) {
          // Along the surface: the way to the mean, without its part along the normal.
          const mx = 0.5 * (sums[p] / counts[v] - x);
          const my = 0.5 * (sums[p + 1] / counts[v] - y);
          const mz = isRim[v] ? 0 : 0.5 * (sums[p + 2] / counts[v] - z);
          const along = (mx * gx + my * gy + mz * gz) / g2;
          x += mx - along * gx;
          y += my - along * gy;
          z += mz - along * gz;
        } else {
          // A Newton step, held to half a cell so that a crease of the field cannot throw the vertex away.
          const size = Math.min(Math.abs(f) / g2, (0.5 * cellMm) / Math.sqrt(g2)) * Math.sign(f);
          gx *= size;
          gy *= size;
          gz *= size;
          x -= gx;
          y -= gy;
          z -= gz;
        }
      }
      positions[p] = x;
      positions[p + 1] = y;
      positions[p + 2] = isRim[v] ? 0 : Math.max(z, 0.2 * cellMm);
    }
  }

  function join(a: number, b: number): void {
    // The rim is evened out along itself alone.
    if (isRim[a] && !isRim[b]) return;
    sums[a * 3] += positions[b * 3];
    sums[a * 3 + 1] += positions[b * 3 + 1];
    sums[a * 3 + 2] += positions[b * 3 + 2];
    counts[a]++;
  }
}

/** Two triangles a quad, parted along its shorter diagonal. */
function splitQuads(positions: Float64Array, quads: readonly number[]): Uint32Array {
  const indices = new Uint32Array((quads.length / 4) * 6);
  for (let q = 0, at = 0; q < quads.length; q += 4, at += 6) {
    const [a, b, c, d] = quads.slice(q, q + 4);
    if (length(positions, a, c) <= length(positions, b, d)) indices.set([a, b, c, a, c, d], at);
    else indices.set([a, b, d, b, c, d], at);
  }
  return indices;
}

function length(positions: Float64Array, a: number, b: number): number {
  return Math.hypot(
    positions[a * 3] - positions[b * 3],
    positions[a * 3 + 1] - positions[b * 3 + 1],
    positions[a * 3 + 2] - positions[b * 3 + 2],
  );
}
