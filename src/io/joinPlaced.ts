import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import { isMirroring, type Placement, UNPLACED } from './Placement.ts';

/** A mesh and where it stands; the same mesh may stand in many places. */
export interface PlacedMesh {
  readonly mesh: TriMesh;
  readonly placement: Placement;
  /** For messages: "object 3", "nodes[2]". */
  readonly name: string;
}

/** A file that names the same part over and over may ask for any number of triangles; more than this no machine here holds. */
export const MOST_TRIS = 100_000_000;

/**
 * What naming parts over and over may make of them, bytes: as much again as they hold, and this freely. A file of some
 * kilobytes would else fill the memory. Own choice: a part of 100,000 triangles stands in a hundred places.
 */
const FREE_BYTES = 300e6;

/** Vertices or triangles between two looks at the clock; about 2 ms. */
const ITEMS_A_RUN = 65536;

/**
 * The parts as one mesh, each where it stands. Parts that are mirrored have their triangles turned back, so that what was
 * outside stays outside. A single part that stands where it is, is handed on itself.
 * Throws MeshError too-large, not-finite; and the abort reason at a checkpoint.
 */
export async function joinPlaced(parts: readonly PlacedMesh[], checkpoint: Checkpoint): Promise<TriMesh> {
  if (parts.length === 1 && parts[0].placement.every((x, i) => x === UNPLACED[i])) return parts[0].mesh;
  const coordCount = parts.reduce((sum, { mesh }) => sum + mesh.positions.length, 0);
  const cornerCount = parts.reduce((sum, { mesh }) => sum + mesh.indices.length, 0);
  if (cornerCount > 3 * MOST_TRIS) {
    throw new MeshError(
      'too-large',
      `The file puts together ${cornerCount / 3} triangles out of ${parts.length} parts; at most ${MOST_TRIS} can be read. ` +
        'Export the scan with fewer triangles.',
    );
  }
  refuseRepeated(parts, 8 * coordCount + 4 * cornerCount);
  const positions = new Float64Array(coordCount);
  const indices = new Uint32Array(cornerCount);
  let coordAt = 0;
  let cornerAt = 0;
  for (const part of parts) {
    const { mesh } = part;
    for (let from = 0; from < mesh.positions.length; from += 3 * ITEMS_A_RUN) {
      placeRun(part, from, Math.min(mesh.positions.length, from + 3 * ITEMS_A_RUN), positions, coordAt);
      if (checkpoint.due()) await checkpoint.pause((coordAt + from) / coordCount);
    }
    const first = coordAt / 3;
    const second = isMirroring(part.placement) ? 2 : 1;
    for (let i = 0; i < mesh.indices.length; i += 3) {
      indices[cornerAt + i] = mesh.indices[i] + first;
      indices[cornerAt + i + second] = mesh.indices[i + 1] + first;
      indices[cornerAt + i + 3 - second] = mesh.indices[i + 2] + first;
    }
    coordAt += mesh.positions.length;
    cornerAt += mesh.indices.length;
    if (checkpoint.due()) await checkpoint.pause(coordAt / coordCount);
  }
  return { positions, indices };
}

function refuseRepeated(parts: readonly PlacedMesh[], joinedBytes: number): void {
  let ownBytes = 0;
  for (const mesh of new Set(parts.map((part) => part.mesh))) {
    ownBytes += mesh.positions.byteLength + mesh.indices.byteLength;
  }
  if (joinedBytes <= Math.max(FREE_BYTES, 2 * ownBytes)) return;
  throw new MeshError(
    'too-large',
    `The file puts the same parts in so many places (${parts.length}) that ${Math.round(joinedBytes / 1e6)} MB would come of ${Math.ceil(ownBytes / 1e6)}. ` +
      'Export the scan as one mesh, once.',
  );
}

function placeRun(
  { mesh, placement: m, name }: PlacedMesh,
  from: number,
  to: number,
  out: Float64Array,
  shift: number,
): void {
  const p = mesh.positions;
  for (let i = from; i < to; i += 3) {
    const x = m[0] * p[i] + m[1] * p[i + 1] + m[2] * p[i + 2] + m[3];
    const y = m[4] * p[i] + m[5] * p[i + 1] + m[6] * p[i + 2] + m[7];
    const z = m[8] * p[i] + m[9] * p[i + 1] + m[10] * p[i + 2] + m[11];
    // A finite number times 0 is 0; NaN and infinities give NaN.
    if ((x + y + z) * 0 !== 0) {
      throw new MeshError(
        'not-finite',
        `Placed by the file's own matrix, vertex ${i / 3} of ${name} is at no finite place. Export the scan again.`,
        { index: i / 3 },
      );
    }
    out[shift + i] = x + 0;
    out[shift + i + 1] = y + 0;
    out[shift + i + 2] = z + 0;
  }
}
