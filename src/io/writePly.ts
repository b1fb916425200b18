import type { TriMesh } from '../core/mesh/TriMesh.ts';

export interface WritePlyOptions {
  /** 'float32' halves the file, 'float64' keeps every digit. */
  readonly precision: 'float32' | 'float64';
  /** One line of ASCII text for the header; line ends and other characters are dropped. */
  readonly comment: string;
}

export const DEFAULT_WRITE_PLY: WritePlyOptions = { precision: 'float32', comment: '' };

/** The mesh as binary little-endian PLY: x y z, then uint8-counted lists of int32 named vertex_indices. */
export function writePly(mesh: TriMesh, options: Partial<WritePlyOptions> = {}): Uint8Array<ArrayBuffer> {
  const { precision, comment } = { ...DEFAULT_WRITE_PLY, ...options };
  const { positions, indices } = mesh;
  const triCount = indices.length / 3;
  const type = precision === 'float64' ? 'double' : 'float';
  const safeComment = comment.replace(/[^\x20-\x7e]/g, '');
  const header = new TextEncoder().encode(
    [
      'ply',
      'format binary_little_endian 1.0',
      ...(safeComment === '' ? [] : [`comment ${safeComment}`]),
      `element vertex ${positions.length / 3}`,
      ...['x', 'y', 'z'].map((axis) => `property ${type} ${axis}`),
      `element face ${triCount}`,
      'property list uchar int vertex_indices',
      'end_header\n',
    ].join('\n'),
  );
  const numberBytes = precision === 'float64' ? 8 : 4;
  const facesAt = header.length + numberBytes * positions.length;
  const bytes = new Uint8Array(facesAt + 13 * triCount);
  const view = new DataView(bytes.buffer);
  bytes.set(header);
  for (let i = 0; i < positions.length; i++) {
    const at = header.length + numberBytes * i;
    if (precision === 'float64') view.setFloat64(at, positions[i], true);
    else view.setFloat32(at, positions[i], true);
  }
  for (let tri = 0; tri < triCount; tri++) {
    const at = facesAt + 13 * tri;
    bytes[at] = 3;
    for (let corner = 0; corner < 3; corner++)
      view.setInt32(at + 1 + 4 * corner, indices[3 * tri + corner], true);
  }
  return bytes;
}
