import { boundingBox, type Vec3 } from '../../mesh/TriMesh.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface } from '../types.ts';

/**
 * What stands in the way of less than this share of the body's size does not count: rays start so far off the surface,
 * along its normal. A scan in single precision is no better.
 */
const OFFSET_SHARE = 1e-4;

/** The rubber and its cut surface as all pulls need them. Made once per plan: O(triangles). */
export interface UndercutBody {
  /** The whole solid, base cap included: what stands in the way. */
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly cut: CutSurface;
  /** By triangle of the cut surface: unit normal (of the scan's triangle that it is a part of) and area, mm2. */
  readonly normals: Float64Array;
  readonly areasMm2: Float64Array;
  readonly standsOnBoard: boolean;
  readonly diagonalMm: number;
  readonly centre: Vec3;
  readonly offsetMm: number;
}

export function makeUndercutBody(
  surface: SurfaceContext,
  cut: CutSurface,
  standsOnBoard: boolean = surface.standsOnBoard,
): UndercutBody {
  const count = cut.cutTriRegion.length;
  const normals = new Float64Array(3 * count);
  const areasMm2 = new Float64Array(count);
  const mesh = { positions: cut.positions, indices: cut.indices };
  const own = new Float64Array(3);
  for (let t = 0; t < count; t++) {
    areasMm2[t] = writeTriNormal(mesh, t, own) / 2;
    const length = writeTriNormal(surface.scan.mesh, cut.cutTriSource[t], own) || 1;
    normals[3 * t] = own[0] / length;
    normals[3 * t + 1] = own[1] / length;
    normals[3 * t + 2] = own[2] / length;
  }
  const { min, max } = boundingBox(surface.scan.mesh);
  return {
    positions: surface.scan.mesh.positions,
    indices: surface.scan.mesh.indices,
    cut,
    normals,
    areasMm2,
    standsOnBoard,
    diagonalMm: surface.diagonalMm,
    centre: [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2],
    offsetMm: OFFSET_SHARE * surface.diagonalMm,
  };
}
