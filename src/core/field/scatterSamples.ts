import type { Checkpoint } from '../checkpoint.ts';
import type { BandGrid } from './BandGrid.ts';
import { type OrderedSurface, TRI_STRIDE } from './OrderedSurface.ts';
import { SampleCloud } from './SampleCloud.ts';

/** Longest edge of the part of a triangle that one sample stands for, in cell edges. */
export const SAMPLE_PART_CELLS = 0.8;

/** No point of a part is farther than this from its sample, its middle: two thirds of the longest median possible. */
export const SAMPLE_REACH_CELLS = SAMPLE_PART_CELLS / Math.sqrt(3);

/** Triangles between two looks at the clock. */
const CHUNK = 8192;

/**
 * Scatters samples over S and gives each cell near them the nearest one: `grid.phi` its squared distance from the cell's
 * centre, in cell edges squared, `grid.tri` its number. Each sample is offered to the eight cells between whose centres it
 * lies, so that a thin wall or a crease within one cell keeps its samples on both faces.
 *
 * O(triangles + area / cell^2). A sample that is nearest to none of its cells is forgotten.
 */
export async function scatterSamples(
  grid: BandGrid,
  surface: OrderedSurface,
  cp: Checkpoint,
): Promise<SampleCloud> {
  const cloud = new SampleCloud(surface.triCount);
  for (let t = 0; t < surface.triCount; t += CHUNK) {
    if (cp.due()) await cp.pause(t / surface.triCount);
    scatterOver(grid, surface, t, Math.min(t + CHUNK, surface.triCount), cloud);
  }
  return cloud;
}

/** Samples of the triangles `from` up to `to`. */
function scatterOver(
  grid: BandGrid,
  surface: OrderedSurface,
  from: number,
  to: number,
  cloud: SampleCloud,
): void {
  const { positions: p, tris } = surface;
  const perMm = 1 / grid.cellMm;
  const [ox, oy, oz] = grid.origin;
  const longest2 = SAMPLE_PART_CELLS * SAMPLE_PART_CELLS;
  for (let t = from; t < to; t++) {
    const a = tris[t * TRI_STRIDE];
    const b = tris[t * TRI_STRIDE + 1];
    const c = tris[t * TRI_STRIDE + 2];
    const x = (p[a] - ox) * perMm - 0.5;
    const y = (p[a + 1] - oy) * perMm - 0.5;
    const z = (p[a + 2] - oz) * perMm - 0.5;
    const ux = (p[b] - p[a]) * perMm;
    const uy = (p[b + 1] - p[a + 1]) * perMm;
    const uz = (p[b + 2] - p[a + 2]) * perMm;
    const vx = (p[c] - p[a]) * perMm;
    const vy = (p[c + 1] - p[a + 1]) * perMm;
    const vz = (p[c + 2] - p[a + 2]) * perMm;
    const wx = ux - vx;
    const wy = uy - vy;
    const wz = uz - vz;
    const edge2 = Math.max(
      ux * ux + uy * uy + uz * uz,
      vx * vx + vy * vy + vz * vz,
      wx * wx + wy * wy + wz * wz,
    );
    if (edge2 <= longest2) {
      offerSample(grid, cloud, x + (ux + vx) / 3, y + (uy + vy) / 3, z + (uz + vz) / 3, t);
      continue;
    }
    // Divided evenly into n^2 parts like itself: row i has upright ones and, between them, turned ones.
    const n = Math.ceil(Math.sqrt(edge2 / longest2));
    const third = 1 / (3 * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n - i; j++) {
        const f = (3 * i + 1) * third;
        const g = (3 * j + 1) * third;
        offerSample(grid, cloud, x + f * ux + g * vx, y + f * uy + g * vy, z + f * uz + g * vz, t);
        if (i + j >= n - 1) continue;
        const f2 = f + third;
        const g2 = g + third;
        offerSample(grid, cloud, x + f2 * ux + g2 * vx, y + f2 * uy + g2 * vy, z + f2 * uz + g2 * vz, t);
      }
    }
  }
}

/** Offers a sample to the eight cells round it. */
function offerSample(grid: BandGrid, cloud: SampleCloud, x: number, y: number, z: number, tri: number): void {
  const i = Math.floor(x);
  const j = Math.floor(y);
  const k = Math.floor(z);
  const fx = x - i;
  const fy = y - j;
  const fz = z - k;
  const x0 = fx * fx;
  const x1 = x0 + 1 - 2 * fx;
  const y0 = fy * fy;
  const y1 = y0 + 1 - 2 * fy;
  const z0 = fz * fz;
  const z1 = z0 + 1 - 2 * fz;
  let kept = false;
  if ((i & 7) < 7 && (j & 7) < 7 && (k & 7) < 7) {
    // All eight lie in one brick, at fixed steps.
    const cell = grid.cellMade(i, j, k);
    if (cell < 0) return;
    const { phi } = grid;
    const ids = grid.tri;
    const id = cloud.count;
    const y0z0 = y0 + z0;
    const y1z0 = y1 + z0;
    const y0z1 = y0 + z1;
    const y1z1 = y1 + z1;
    if (x0 + y0z0 < phi[cell]) {
      phi[cell] = x0 + y0z0;
      ids[cell] = id;
      kept = true;
    }
    if (x1 + y0z0 < phi[cell + 1]) {
      phi[cell + 1] = x1 + y0z0;
      ids[cell + 1] = id;
      kept = true;
    }
    if (x0 + y1z0 < phi[cell + 8]) {
      phi[cell + 8] = x0 + y1z0;
      ids[cell + 8] = id;
      kept = true;
    }
    if (x1 + y1z0 < phi[cell + 9]) {
      phi[cell + 9] = x1 + y1z0;
      ids[cell + 9] = id;
      kept = true;
    }
    if (x0 + y0z1 < phi[cell + 64]) {
      phi[cell + 64] = x0 + y0z1;
      ids[cell + 64] = id;
      kept = true;
    }
    if (x1 + y0z1 < phi[cell + 65]) {
      phi[cell + 65] = x1 + y0z1;
      ids[cell + 65] = id;
      kept = true;
    }
    if (x0 + y1z1 < phi[cell + 72]) {
      phi[cell + 72] = x0 + y1z1;
      ids[cell + 72] = id;
      kept = true;
    }
    if (x1 + y1z1 < phi[cell + 73]) {
      phi[cell + 73] = x1 + y1z1;
      ids[cell + 73] = id;
      kept = true;
    }
  } else {
    for (let corner = 0; corner < 8; corner++) {
      const dx = corner & 1;
      const dy = (corner >> 1) & 1;
      const dz = corner >> 2;
      const cell = grid.cellMade(i + dx, j + dy, k + dz);
      if (cell < 0) continue;
      const d2 = (dx ? x1 : x0) + (dy ? y1 : y0) + (dz ? z1 : z0);
      if (d2 < grid.phi[cell]) {
        grid.phi[cell] = d2;
        grid.tri[cell] = cloud.count;
        kept = true;
      }
    }
  }
  if (kept) {
    cloud.put(cloud.count++, x, y, z, tri);
  }
}
