import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { CornerIndex } from './CornerIndex.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { promisedStlTris } from './sniffStl.ts';
import { STL_BODY_AT, STL_CORNERS_AT, STL_TRI_BYTES } from './stlLayout.ts';

/** Triangles between two looks at the clock; about 2 ms. */
const TRIS_A_RUN = 8192;

/** The exponent's bits of a float32: all of them are set in what is NaN or infinite, and in nothing else. */
const EXPONENT = 0x7f800000;

/** A closed mesh has half as many vertices as triangles (Euler); the rest is for open borders. */
const VERTS_A_TRI = 0.52;

/**
 * Reads a binary STL and indexes it while reading: equal corners (bit for bit, -0 as 0) become one vertex.
 *
 * Normals and attribute bytes are passed over; winding is taken as written. Bytes after the last triangle are passed
 * over with a note. Memory beside the file: 12 bytes a triangle and about 50 a vertex.
 * Throws MeshError: truncated, count-mismatch, no-faces, not-finite; and the abort reason at a checkpoint.
 */
export async function readStlBinary(bytes: Uint8Array, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const triCount = countTris(bytes);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const indices = new Uint32Array(3 * triCount);
  const verts = new CornerIndex(VERTS_A_TRI * triCount);
  for (let from = 0; from < triCount; from += TRIS_A_RUN) {
    readRun(view, from, Math.min(triCount, from + TRIS_A_RUN), verts, indices);
    if (checkpoint.due()) await checkpoint.pause(from / triCount);
  }
  return {
    mesh: { positions: verts.takePositions(), indices },
    format: 'STL binary',
    notes: notesOf(bytes.length - STL_BODY_AT - STL_TRI_BYTES * triCount),
  };
}

/** The triangles promised, once it is sure that all of them are there; nothing is allocated before. */
function countTris(bytes: Uint8Array): number {
  const promised = promisedStlTris(bytes);
  if (promised === undefined) {
    throw new MeshError(
      'truncated',
      `The file ends at byte ${bytes.length}, inside the ${STL_BODY_AT} bytes that begin a binary STL. ` +
        'Copy or export the scan again.',
      { byte: bytes.length },
    );
  }
  const present = Math.floor((bytes.length - STL_BODY_AT) / STL_TRI_BYTES);
  if (promised > present) {
    throw new MeshError(
      'truncated',
      `The file ends at byte ${bytes.length}, inside triangle ${present}: the header (byte 80) promises ` +
        `${promised} triangles, which need ${STL_BODY_AT + STL_TRI_BYTES * promised} bytes, and ${present} whole ones ` +
        'are there. If this is a binary STL it was cut off; copy or export the scan again.',
      { byte: bytes.length, index: present },
    );
  }
  if (promised === 0 && present > 0) {
    throw new MeshError(
      'count-mismatch',
      `The header (byte 80) promises 0 triangles, yet there is room for ${present} after it. Export the scan again.`,
      { byte: 80 },
    );
  }
  if (promised === 0) {
    throw new MeshError(
      'no-faces',
      'The STL holds no triangles: its count (byte 80) is 0. Export the scan again, as a mesh.',
      { byte: 80 },
    );
  }
  return promised;
}

function readRun(view: DataView, from: number, to: number, verts: CornerIndex, indices: Uint32Array): void {
  for (let tri = from; tri < to; tri++) {
    let at = STL_BODY_AT + STL_TRI_BYTES * tri + STL_CORNERS_AT;
    for (let corner = 0; corner < 3; corner++) {
      const x = view.getInt32(at, true);
      const y = view.getInt32(at + 4, true);
      const z = view.getInt32(at + 8, true);
      if ((x & EXPONENT) === EXPONENT || (y & EXPONENT) === EXPONENT || (z & EXPONENT) === EXPONENT) {
        refuseNotFinite(view, at, tri, corner);
      }
      indices[3 * tri + corner] = verts.findOrAdd(x, y, z);
      at += 12;
    }
  }
}

function refuseNotFinite(view: DataView, at: number, tri: number, corner: number): never {
  const xyz = [0, 4, 8].map((offset) => view.getFloat32(at + offset, true));
  const axis = xyz.findIndex((value) => !Number.isFinite(value));
  const byte = at + 4 * axis;
  throw new MeshError(
    'not-finite',
    `Triangle ${tri}, corner ${corner} has ${xyz[axis]} as its ${'xyz'[axis]} (byte ${byte}), which is not a finite ` +
      'number. Export the scan again, or delete that triangle.',
    { byte, index: tri },
  );
}

function notesOf(trailingBytes: number): ScanNote[] {
  if (trailingBytes === 0) return [];
  return [
    {
      code: 'trailing-bytes',
      text:
        `${trailingBytes} bytes after the last triangle were passed over` +
        `${trailingBytes < STL_TRI_BYTES ? '' : '; if parts of the scan are missing, its count (byte 80) is too low'}.`,
      count: trailingBytes,
    },
  ];
}
