import type { Checkpoint } from '../../checkpoint.ts';
import type { TriMesh } from '../../mesh/TriMesh.ts';
import { frameOf } from '../undercut/PullFrame.ts';
import { SweepRaster } from './SweepRaster.ts';

/** Every face of a mesh looked at along every direction; entry direction * faceCount + face. */
export interface FaceSweep {
  readonly directionCount: number;
  readonly faceCount: number;
  /** 1: the shell over this face cannot leave along this direction (it faces away, or rubber stands in the way). */
  readonly hidden: Uint8Array;
  /** How deep the face locks, mm: least shift square to the pull after which a straight way out is free; 0 where free. */
  readonly depthMm: Float32Array;
  /** Edge of the pixels that all this was read off, mm. */
  readonly pixelMm: number;
}

/**
 * Looks at every face along every direction (n x 3, unit), by raster: good for comparing directions, wrong within about a
 * pixel of silhouettes and two in depth. The mesh itself stands in the way, no other piece; and the board, in that what locks
 * a face is never got round below it.
 *
 * @param standsOnBoard left out: a mesh of which no direction goes down is taken to stand on the board z = 0.
 *
 * Cost: 4 to 6 ms a direction for 12 000 faces; 5 bytes a face and direction. Reports progress and cancels at its checkpoint.
 */
export async function sweepFaces(
  mesh: TriMesh,
  directions: Float32Array,
  cp: Checkpoint,
  standsOnBoard: boolean = noneGoesDown(directions),
): Promise<FaceSweep> {
  const directionCount = directions.length / 3;
  const faceCount = mesh.indices.length / 3;
  const hidden = new Uint8Array(directionCount * faceCount);
  const depthMm = new Float32Array(directionCount * faceCount);
  const raster = new SweepRaster(mesh, standsOnBoard);
  for (let i = 0; i < directionCount; i++) {
    if (cp.due()) await cp.pause(i / directionCount);
    const from = i * faceCount;
    raster.look(
      frameOf([directions[3 * i], directions[3 * i + 1], directions[3 * i + 2]]),
      hidden.subarray(from, from + faceCount),
      depthMm.subarray(from, from + faceCount),
    );
  }
  await cp.pause(1);
  return { directionCount, faceCount, hidden, depthMm, pixelMm: raster.pixelMm };
}

function noneGoesDown(directions: Float32Array): boolean {
  for (let i = 2; i < directions.length; i += 3) if (directions[i] < 0) return false;
  return true;
}
