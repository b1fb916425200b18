import { meshArea, signedVolume } from '../../mesh/measure.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { CastingPlan } from '../../plan/PlanDocument.ts';
import type { CastingGround } from './CastingGround.ts';
import { centresOfSurface, type SurfaceCentres } from './centresOfSurface.ts';
import { openingOnBoard } from './filledVolume.ts';
import { type FlatPatch, findFlatPatches } from './findFlatPatches.ts';
import { fillMould, type MouldFill } from './MouldFill.ts';
import { measureExtents, type PieceExtents } from './measureExtents.ts';
import { pressOnRegions } from './pressOnRegions.ts';

/** What the fluid does to the surface: all of the casting load that reads the triangles. */
export interface MouldPressure {
  readonly fill: MouldFill;
  /** By piece, PRESS_WIDTH each: `pressOnRegions`. */
  readonly press: Float64Array;
  /** Volume that the surface bounds over the board. */
  readonly wholeMm3: number;
  /** Opening of the surface on the board, and whether that is more than a pinhole. */
  readonly openMm2: number;
  readonly isOpenBelow: boolean;
  readonly lowestMm: Vec3;
  /** By piece: its largest flattish patch, and its size across and along its pull. */
  readonly patches: readonly (FlatPatch | null)[];
  readonly extents: readonly PieceExtents[];
  /** Middles of the pieces' rubber, of all of it and of the inside. */
  readonly centres: SurfaceCentres;
}

export type PressedGround = Pick<CastingGround, 'positions' | 'indices' | 'triRegion'> & {
  readonly pieces: readonly Pick<CastingGround['pieces'][number], 'pull'>[];
};

/** Where less than this share of the surface's area looks down onto the board, the rubber is closed underneath. */
const OPEN_UNDERNEATH_SHARE = 1e-4;

/**
 * The fluid's pressure on the pieces. Null when no piece has any surface or the surface bounds nothing over the board, so
 * that nothing says which way the fluid presses. Does not depend on the shell: it stays while coats change.
 * Cost: a few passes over the triangles, some tens of milliseconds for 100,000.
 */
export function pressMould(casting: CastingPlan, ground: PressedGround): MouldPressure | null {
  const { positions, indices, triRegion, pieces } = ground;
  const reach = reachOf(positions, indices);
  if (reach === null || !triRegion.some((region) => region >= 0)) return null;
  const wholeMm3 = signedVolume({ positions, indices });
  if (!(wholeMm3 > 0)) return null;
  const fill = fillMould(casting, reach.lowMm, reach.highMm);
  const openMm2 = openingOnBoard(positions, indices);
  return {
    fill,
    press: pressOnRegions(positions, indices, triRegion, pieces.length, fill),
    wholeMm3,
    openMm2,
    isOpenBelow: openMm2 > OPEN_UNDERNEATH_SHARE * reach.areaMm2,
    lowestMm: reach.lowestMm,
    patches: findFlatPatches(positions, indices, triRegion, pieces.length, fill),
    extents: measureExtents(
      positions,
      indices,
      triRegion,
      pieces.map((piece) => piece.pull),
    ),
    centres: centresOfSurface(positions, indices, triRegion, pieces.length),
  };
}

/** Height, area and lowest point of the surface; null without triangles. */
function reachOf(
  positions: Float64Array,
  indices: Uint32Array,
): {
  readonly lowMm: number;
  readonly highMm: number;
  readonly lowestMm: Vec3;
  readonly areaMm2: number;
} | null {
  if (indices.length === 0) return null;
  let lowest = indices[0];
  let highest = indices[0];
  for (let i = 1; i < indices.length; i++) {
    const z = positions[3 * indices[i] + 2];
    if (z < positions[3 * lowest + 2]) lowest = indices[i];
    if (z > positions[3 * highest + 2]) highest = indices[i];
  }
  const at = (v: number, k: number): number => positions[3 * v + k];
  return {
    lowMm: at(lowest, 2),
    highMm: at(highest, 2),
    lowestMm: [at(lowest, 0), at(lowest, 1), at(lowest, 2)],
    areaMm2: meshArea({ positions, indices }),
  };
}
