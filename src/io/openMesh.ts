import { parse } from '@loaders.gl/core';
import { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import { create3mfLoader, THREE_MF_MIME_TYPE } from './create3mfLoader.ts';
import { createGltfLoader, GLB_MIME_TYPE } from './createGltfLoader.ts';
import { createObjLoader, OBJ_MIME_TYPE } from './createObjLoader.ts';
import { createPlyLoader, PLY_MIME_TYPE } from './createPlyLoader.ts';
import { createStlLoader, STL_MIME_TYPE } from './createStlLoader.ts';
import { isTextual } from './isTextual.ts';
import { nameForeignContent } from './nameForeignContent.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { quoteText } from './quoteText.ts';
import { sniff3mf } from './sniff3mf.ts';
import { sniffGltf } from './sniffGltf.ts';
import { sniffStl } from './sniffStl.ts';

/** What a message tells people to export. */
const READ_HERE = 'STL, PLY, OBJ, GLB or 3MF';

/** By the name's end: what content that looks like nothing is taken for, so that what is wrong with it is said. */
const MIME_TYPES: readonly (readonly [RegExp, string])[] = [
  [/\.stl$/i, STL_MIME_TYPE],
  [/\.ply$/i, PLY_MIME_TYPE],
  [/\.glb$/i, GLB_MIME_TYPE],
  [/\.3mf$/i, THREE_MF_MIME_TYPE],
];

/**
 * Reads a mesh file: STL (binary, ASCII), PLY (ASCII, binary of either byte order), OBJ, glTF 2.0 in one file (GLB, or text)
 * or 3MF, told apart by content. The name decides only for content that is not known: a binary STL that was cut short looks
 * like nothing.
 *
 * Positions come in the file's own unit and axes; every number is finite and every index in range. STL corners are
 * indexed, other vertices are as the file has them; zero-area, duplicate and flipped faces stay for the repair to count.
 * Nothing that the file says in words (comments, names) is interpreted, and nothing is fetched.
 *
 * Throws MeshError, saying what, where and what to do; and the abort reason of the checkpoint's signal, unchanged.
 * Cost: 0.3 to 0.7 s of processor time for a million triangles of binary STL; beside the file, 50 bytes a triangle.
 */
export async function openMesh(
  bytes: ArrayBuffer | Uint8Array,
  fileName: string,
  checkpoint: Checkpoint = new Checkpoint(),
): Promise<OpenedMesh> {
  const buffer = exactBuffer(bytes);
  refuseForeign(new Uint8Array(buffer), fileName);
  const fallbackMimeType = mimeTypeByName(new Uint8Array(buffer), fileName);
  let opened: OpenedMesh | null | undefined;
  try {
    // STL first: a binary one may begin with any 80 bytes, "ply" among them, and is known by a count that no text can hold.
    const loaders = [
      createStlLoader(checkpoint),
      createPlyLoader(checkpoint),
      createGltfLoader(checkpoint),
      create3mfLoader(checkpoint),
      createObjLoader(checkpoint),
    ];
    opened = await parse(buffer, loaders, {
      core: {
        // Workers of the package come from a server far away; this already runs in ours.
        worker: false,
        ignoreRegisteredLoaders: true,
        nothrow: true,
        ...(fallbackMimeType === undefined ? {} : { fallbackMimeType }),
      },
    });
  } catch (error) {
    // The only RangeError that readers let through is a table that the machine has no room for.
    if (error instanceof RangeError) {
      throw new MeshError(
        'too-large',
        `${quoteText(fileName)} (${buffer.byteLength} bytes) needs more memory than there is. ` +
          'Export the scan with fewer triangles.',
      );
    }
    throw error;
  }
  if (opened === null || opened === undefined) {
    const what = isTextual(new Uint8Array(buffer))
      ? 'a text, but none that describes a mesh'
      : 'none of the formats that are read here';
    throw new MeshError(
      'unknown-format',
      `${quoteText(fileName)} is ${what} (byte 0). Export the scan as ${READ_HERE} and open that.`,
      { byte: 0 },
    );
  }
  return opened;
}

/** The bytes as a buffer of their own: the package looks at a view's whole buffer when it sniffs. Copied only if needed. */
function exactBuffer(bytes: ArrayBuffer | Uint8Array): ArrayBuffer {
  if (bytes instanceof ArrayBuffer) return bytes;
  const { buffer, byteOffset, byteLength } = bytes;
  if (buffer instanceof ArrayBuffer && byteOffset === 0 && byteLength === buffer.byteLength) return buffer;
  return new Uint8Array(bytes).buffer;
}

function refuseForeign(bytes: Uint8Array, fileName: string): void {
  if (bytes.length === 0) {
    throw new MeshError(
      'empty-file',
      `${quoteText(fileName)} is empty (0 bytes). Copy or export the scan again.`,
      { byte: 0 },
    );
  }
  // A binary STL may begin with any 80 bytes; when its count fits, its first letters mean nothing.
  const isKnown = sniffStl(bytes) === 'binary' || sniffGltf(bytes) !== undefined || sniff3mf(bytes);
  const foreign = isKnown ? undefined : nameForeignContent(bytes);
  if (foreign !== undefined) {
    throw new MeshError(
      'unknown-format',
      `${quoteText(fileName)} is ${foreign} (byte 0), whatever its name says. Export the scan as ${READ_HERE} and open that.`,
      { byte: 0 },
    );
  }
}

function mimeTypeByName(bytes: Uint8Array, fileName: string): string | undefined {
  // A text that is no OBJ has no first word to know it by, so the name may say what it was meant to be.
  if (isTextual(bytes)) return /\.obj$/i.test(fileName) ? OBJ_MIME_TYPE : undefined;
  return MIME_TYPES.find(([ending]) => ending.test(fileName))?.[1];
}
