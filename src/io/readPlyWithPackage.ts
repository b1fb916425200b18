import { parse } from '@loaders.gl/core';
import { PLYLoader } from '@loaders.gl/ply';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import { planPlyRows } from './planPlyRows.ts';
import type { PlyElement, PlyHeader } from './plyHeader.ts';

/**
 * Largest file handed to the package, about 50,000 triangles. It makes an object for each row and a string of the whole
 * file, which took ten times as long as our own reader (0.35 s to 0.03 s for 200,000 triangles), and cannot be cancelled.
 */
const MAX_PACKAGE_BYTES = 1_000_000;

/** Without the worker, which the package would fetch from a server far away. */
const LOCAL_LOADER = { ...PLYLoader, worker: false };

/** Vertex properties that the package sorts by name; another name could be that of one of its own tables. */
const KNOWN_PROPERTIES = new Set(['x', 'y', 'z', 'nx', 'ny', 'nz', 'red', 'green', 'blue', 'alpha']);

/**
 * Whether @loaders.gl/ply 4.4.5 reads this file right, by its header and its length alone.
 *
 * It must be small and binary (of ASCII files the package accepts those that were cut, and rounds decimals to float32),
 * have a header of plain ASCII lines ended by LF (it counts the header in characters), exactly vertices and then faces,
 * float32 coordinates (it rounds doubles), one list per face, and the very length that triangles alone would give (it
 * drops faces of five and more corners, and reads on in what follows).
 */
export function isReadRightByPackage(header: PlyHeader, byteCount: number): boolean {
  const { format, elements, isPlain, bodyAt } = header;
  if (byteCount > MAX_PACKAGE_BYTES || !isPlain || format === 'ascii' || elements.length !== 2) return false;
  const [vertices, faces] = elements;
  if (!hasPlainVertices(vertices) || !hasPlainFaces(faces)) return false;
  const [vertexRows, faceRows] = planPlyRows(header);
  const triangleBytes = faceRows.leastBytes + 3 * faceRows.columns[0].typeBytes;
  return byteCount === bodyAt + vertexRows.leastBytes * vertices.count + triangleBytes * faces.count;
}

/**
 * The mesh as @loaders.gl/ply reads it, positions widened from float32, or undefined when what comes back is not what the
 * header promises or holds a number or an index that cannot be used: then our own reader says where.
 */
export async function readPlyWithPackage(
  buffer: ArrayBuffer,
  header: PlyHeader,
): Promise<TriMesh | undefined> {
  const [vertices, faces] = header.elements;
  // The package takes the last "end_header" of the whole file for the header's end, and prints what it finds before.
  if (holdsText(new Uint8Array(buffer, header.bodyAt), 'end_header')) return undefined;
  const read = await parse(buffer, LOCAL_LOADER, { core: { worker: false } }).catch(() => undefined);
  const positions = read?.attributes['POSITION']?.value;
  const indices = read?.indices?.value;
  if (positions?.length !== 3 * vertices.count || indices?.length !== 3 * faces.count) return undefined;
  const mesh = {
    positions: Float64Array.from(positions, (value) => value + 0),
    indices: Uint32Array.from(indices),
  };
  const isSound =
    mesh.positions.every(Number.isFinite) && mesh.indices.every((vert) => vert < vertices.count);
  return isSound ? mesh : undefined;
}

function hasPlainVertices({ name, count, properties }: PlyElement): boolean {
  return (
    name === 'vertex' &&
    count > 0 &&
    properties.every(
      (property) =>
        property.countType === undefined &&
        KNOWN_PROPERTIES.has(property.name) &&
        (!'xyz'.includes(property.name) || property.type === 'float32'),
    )
  );
}

function hasPlainFaces({ name, count, properties }: PlyElement): boolean {
  return (
    name === 'face' &&
    count > 0 &&
    properties.length === 1 &&
    properties[0].countType === 'uint8' &&
    (properties[0].type === 'int32' || properties[0].type === 'uint32') &&
    (properties[0].name === 'vertex_indices' || properties[0].name === 'vertex_index')
  );
}

/** Whether the bytes hold the ASCII text anywhere. */
function holdsText(bytes: Uint8Array, text: string): boolean {
  const first = text.charCodeAt(0);
  for (let at = bytes.indexOf(first); at >= 0; at = bytes.indexOf(first, at + 1)) {
    let matched = 1;
    while (matched < text.length && bytes[at + matched] === text.charCodeAt(matched)) matched++;
    if (matched === text.length) return true;
  }
  return false;
}
