import type { SurfaceOnBoard } from '../../src/core/field/BandSource.ts';
import { enclosedVolume } from './convexSteiner.ts';
import { LatticeDistance } from './LatticeDistance.ts';
import { loadManifold } from './manifoldShapes.ts';

/** A volume by another program, with the error that its two grids show it to have, mm3. */
export interface Referred {
  readonly volumeMm3: number;
  readonly errorMm3: number;
}

/** The coarser of the two lattices, as a multiple of the finer. */
const COARSER = 1.5;

/**
 * What a second-order method tends to, from its answers on two grids, the second `coarser` times as large (Richardson). The whole
 * of what that adds is stated as its error: over creases the order is not certain.
 */
export function extrapolate(fineMm3: number, coarseMm3: number, coarser: number): Referred {
  const addedMm3 = (fineMm3 - coarseMm3) / (coarser ** 2 - 1);
  return { volumeMm3: fineMm3 + addedMm3, errorMm3: Math.abs(addedMm3) };
}

/**
 * The coats between rising distances from a scan's surface, the first 0, by the level sets of manifold-3d on two lattices; last, all
 * of them together. `scan` must be closed, if need be by the board.
 */
export async function levelSetCoats(
  scan: SurfaceOnBoard,
  levelsMm: readonly number[],
  edgeMm: number,
): Promise<Referred[]> {
  const fine = await levelSetVolumes(scan, levelsMm, edgeMm);
  const coarse = await levelSetVolumes(scan, levelsMm, COARSER * edgeMm);
  const last = levelsMm.length - 1;
  const spans = [...levelsMm.slice(1).map((_, n) => [n, n + 1]), [0, last]];
  return spans.map(([from, to]) => extrapolate(fine[to] - fine[from], coarse[to] - coarse[from], COARSER));
}

/**
 * Volumes above the board of the bodies parallel to the surface: each is the solid that manifold-3d spans over its level set
 * (marching tetrahedra on a body-centred lattice), which it then cuts at the board. At the distance 0 the mesh's own, by the
 * divergence theorem, each part of it counted once.
 *
 * @param edgeMm edge of the lattice. Cost: some 5 microseconds for each of its points between the least and the greatest level.
 */
async function levelSetVolumes(
  scan: SurfaceOnBoard,
  levelsMm: readonly number[],
  edgeMm: number,
): Promise<number[]> {
  const { Manifold } = await loadManifold();
  const [, ...outer] = levelsMm;
  const distance = new LatticeDistance(scan, outer, edgeMm);
  const { minMm: min, maxMm: max } = distance;
  const bounds = { min: [min[0], min[1], min[2]] as Point, max: [max[0], max[1], max[2]] as Point };
  const volumesMm3 = [enclosedVolume(distance.surface) - distance.overcountedMm3()];
  for (const level of outer) {
    // The library's values grow inwards. The edge is a hair less, so that it rounds to as many as there are.
    const solid = Manifold.levelSet(
      ([x, y, z]) => -distance.at(x, y, z),
      bounds,
      edgeMm * (1 - 1e-9),
      -level,
    );
    const above = scan.standsOnBoard ? solid.trimByPlane([0, 0, 1], 0) : solid.translate([0, 0, 0]);
    volumesMm3.push(above.volume());
    solid.delete();
    above.delete();
  }
  return volumesMm3;
}

type Point = [number, number, number];
