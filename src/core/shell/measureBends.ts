import type { TriMesh } from '../mesh/TriMesh.ts';
import { vectorLength } from '../mesh/vectorLength.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { SurfaceTiles } from '../parting/SurfaceTiles.ts';
import type { CutSurface } from '../parting/types.ts';

/**
 * Beyond this bend an edge counts no more: what a cell can miss there is limited by the cell itself, and a fold of the
 * scan, bent by nearly a half turn, must not outweigh the rest. As tan(bend / 2).
 */
const MOST_TANGENT = Math.tan(((5 / 6) * Math.PI) / 2);

/**
 * How much each triangle's edges bend, mm: half of edge length times tan(bend / 2); the other half belongs to the
 * neighbour. For gentle bends the sum is the integral of |mean curvature|; at a sharp edge tan(bend / 2) is what the two
 * flats, each taken alone, reach beyond it. Borders add nothing; the edge
 * of a base cap counts, which only widens what stands on it. O(triangles).
 */
export function measureBends(mesh: TriMesh, twins: Int32Array): Float64Array {
  const { positions: p, indices } = mesh;
  const count = indices.length / 3;
  const normals = new Float64Array(3 * count);
  const normal = new Float64Array(3);
  for (let t = 0; t < count; t++) {
    const twice = writeTriNormal(mesh, t, normal) || 1;
    for (let k = 0; k < 3; k++) normals[3 * t + k] = normal[k] / twice;
  }
  const bends = new Float64Array(count);
  for (let h = 0; h < twins.length; h++) {
    if (twins[h] < 0) continue;
    const t = Math.floor(h / 3);
    const o = Math.floor(twins[h] / 3);
    const cosine =
      normals[3 * t] * normals[3 * o] +
      normals[3 * t + 1] * normals[3 * o + 1] +
      normals[3 * t + 2] * normals[3 * o + 2];
    const a = indices[h] * 3;
    const b = indices[h % 3 === 2 ? h - 2 : h + 1] * 3;
    const length = vectorLength(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
    // tan(bend / 2) by its cosine; two unit normals' is 1 and -1 only to rounding.
    const tangent = Math.sqrt(Math.max(0, 1 - cosine) / Math.max(0, 1 + cosine));
    bends[t] += 0.5 * length * Math.min(MOST_TANGENT, tangent);
  }
  return bends;
}

const known = new WeakMap<SurfaceTiles, Float64Array>();

/** The bends summed by tile, kept with the tiles: a surface has one set of bends. */
function bendsOfTiles(bends: Float64Array, tiles: SurfaceTiles): Float64Array {
  let sums = known.get(tiles);
  if (!sums) {
    sums = new Float64Array(tiles.count);
    for (let t = 0; t < bends.length; t++) if (tiles.tileOf[t] >= 0) sums[tiles.tileOf[t]] += bends[t];
    known.set(tiles, sums);
  }
  return sums;
}

/** The bends summed by region, mm; a triangle that a line runs through counts in each of its regions whole. */
export function bendsOfRegions(bends: Float64Array, cut: CutSurface): Float64Array {
  const sums = new Float64Array(cut.regionCount);
  const { cutTriRegion, cutTriSource } = cut;
  const { tiles, tileRegion, loose } = cut.parts;
  const ofTiles = bendsOfTiles(bends, tiles);
  for (let tile = 0; tile < tiles.count; tile++) {
    if (tileRegion[tile] >= 0) sums[tileRegion[tile]] += ofTiles[tile];
  }
  // The parts of a cut triangle by region; of a whole one there is only itself.
  const counted = new Set<number>();
  for (const n of loose) {
    const region = cutTriRegion[n];
    const source = cutTriSource[n];
    const part = source * cut.regionCount + region;
    if (region < 0 || counted.has(part)) continue;
    counted.add(part);
    sums[region] += bends[source];
  }
  return sums;
}
