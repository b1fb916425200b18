import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';

/** Files made for tests, byte by byte, without the writers under test. */

export const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

export function concat(...parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Binary STL of nine numbers a triangle. `count` is what the header says. */
export function stlOf(
  triangles: readonly (readonly number[])[],
  header = '',
  count = triangles.length,
): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  const view = new DataView(bytes.buffer);
  bytes.set(encode(header).subarray(0, 80));
  view.setUint32(80, count, true);
  for (const [tri, numbers] of triangles.entries()) {
    for (const [i, value] of numbers.entries()) view.setFloat32(84 + 50 * tri + 12 + 4 * i, value, true);
  }
  return bytes;
}

/** The corners of each triangle, nine numbers a triangle. */
export function soupOf({ positions, indices }: TriMesh): number[][] {
  const soup: number[][] = [];
  for (let t = 0; t < indices.length; t += 3) {
    soup.push([0, 1, 2].flatMap((k) => [...positions.subarray(3 * indices[t + k], 3 * indices[t + k] + 3)]));
  }
  return soup;
}

export function asciiStlOf(triangles: readonly (readonly number[])[], name = 'thing'): string {
  const facets = triangles.map(
    (p) =>
      `  facet normal 0 0 0\n    outer loop\n${[0, 3, 6]
        .map((i) => `      vertex ${p[i]} ${p[i + 1]} ${p[i + 2]}\n`)
        .join('')}    endloop\n  endfacet\n`,
  );
  return `solid ${name}\n${facets.join('')}endsolid ${name}\n`;
}

/** One tetrahedron, outward, as soup. */
export const TETRAHEDRON: readonly (readonly number[])[] = [
  [0, 0, 0, 0, 1, 0, 1, 0, 0],
  [0, 0, 0, 1, 0, 0, 0, 0, 1],
  [0, 0, 0, 0, 0, 1, 0, 1, 0],
  [1, 0, 0, 0, 1, 0, 0, 0, 1],
];

type Scalar = 'uchar' | 'ushort' | 'int' | 'uint' | 'float' | 'double' | 'short' | 'char';

/** Bytes of values, each with its type, in either order. */
export function packed(values: readonly (readonly [Scalar, number])[], isLittleEndian: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(8 * values.length));
  let at = 0;
  for (const [type, value] of values) {
    if (type === 'uchar') view.setUint8(at, value);
    else if (type === 'char') view.setInt8(at, value);
    else if (type === 'ushort') view.setUint16(at, value, isLittleEndian);
    else if (type === 'short') view.setInt16(at, value, isLittleEndian);
    else if (type === 'int') view.setInt32(at, value, isLittleEndian);
    else if (type === 'uint') view.setUint32(at, value, isLittleEndian);
    else if (type === 'float') view.setFloat32(at, value, isLittleEndian);
    else view.setFloat64(at, value, isLittleEndian);
    at += type.endsWith('char') ? 1 : type.endsWith('short') ? 2 : type === 'double' ? 8 : 4;
  }
  return new Uint8Array(view.buffer.slice(0, at));
}

export interface PlySample {
  readonly format: 'ascii' | 'binary_little_endian' | 'binary_big_endian';
  readonly type: 'float' | 'double';
  readonly positions: readonly number[];
  readonly faces: readonly (readonly number[])[];
  readonly lineEnd?: string;
  readonly comment?: string;
  readonly listName?: string;
  readonly vertexCount?: number;
  readonly faceCount?: number;
}

/** A PLY with vertices and faces, in any of its three formats. */
export function plyOf(sample: PlySample): Uint8Array {
  const { format, type, positions, faces, lineEnd = '\n', comment, listName = 'vertex_indices' } = sample;
  const header = [
    'ply',
    `format ${format} 1.0`,
    ...(comment === undefined ? [] : [`comment ${comment}`]),
    `element vertex ${sample.vertexCount ?? positions.length / 3}`,
    ...['x', 'y', 'z'].map((axis) => `property ${type} ${axis}`),
    `element face ${sample.faceCount ?? faces.length}`,
    `property list uchar int ${listName}`,
    'end_header',
    '',
  ].join(lineEnd);
  if (format === 'ascii') {
    const rows: string[] = [];
    for (let i = 0; i < positions.length; i += 3) rows.push(positions.slice(i, i + 3).join(' '));
    for (const face of faces) rows.push([face.length, ...face].join(' '));
    return encode(header + rows.map((row) => row + lineEnd).join(''));
  }
  const values: [Scalar, number][] = positions.map((value) => [type, value]);
  for (const face of faces) {
    values.push(['uchar', face.length]);
    for (const vert of face) values.push(['int', vert]);
  }
  return concat(encode(header), packed(values, format === 'binary_little_endian'));
}

/** Corners of the unit tetrahedron and its faces, for `plyOf`. */
export const TETRAHEDRON_PLY = {
  positions: [0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1],
  faces: [
    [0, 2, 1],
    [0, 1, 3],
    [0, 3, 2],
    [1, 2, 3],
  ],
} as const;
