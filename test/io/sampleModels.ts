import { deflateRawSync, crc32 as nodeCrc32 } from 'node:zlib';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { concat, encode } from './sampleFiles.ts';

/** OBJ, glTF and 3MF files made for tests by the letter of their standards, without any reader's or writer's code. */

/** Corners of a box from the origin, and its faces of four corners, counter-clockwise seen from outside. Own drawing. */
export const boxCorners = (a: number, b: number, c: number): number[][] => [
  [0, 0, 0],
  [a, 0, 0],
  [a, b, 0],
  [0, b, 0],
  [0, 0, c],
  [a, 0, c],
  [a, b, c],
  [0, b, c],
];
export const BOX_FACES: readonly (readonly number[])[] = [
  [0, 3, 2, 1],
  [4, 5, 6, 7],
  [0, 1, 5, 4],
  [1, 2, 6, 5],
  [2, 3, 7, 6],
  [3, 0, 4, 7],
];

/** The box as triangles. */
export function boxMesh(a: number, b: number, c: number): TriMesh {
  return {
    positions: Float64Array.from(boxCorners(a, b, c).flat()),
    indices: Uint32Array.from(BOX_FACES.flatMap(([p, q, r, s]) => [p, q, r, p, r, s])),
  };
}

/** Signed volume, by the divergence theorem: positive for what is wound outward. */
export function volumeOf({ positions: p, indices }: TriMesh): number {
  let six = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]];
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
}

export function boundsOf({ positions }: TriMesh): number[] {
  const out = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  positions.forEach((x, i) => {
    out[i % 3] = Math.min(out[i % 3], x);
    out[3 + (i % 3)] = Math.max(out[3 + (i % 3)], x);
  });
  return out;
}

export function objOf({ positions, indices }: TriMesh): string {
  const lines = ['# written for a test'];
  for (let i = 0; i < positions.length; i += 3)
    lines.push(`v ${positions[i]} ${positions[i + 1]} ${positions[i + 2]}`);
  for (let i = 0; i < indices.length; i += 3) {
    lines.push(`f ${indices[i] + 1} ${indices[i + 1] + 1} ${indices[i + 2] + 1}`);
  }
  return `${lines.join('\n')}\n`;
}

/** A GLB (glTF 2.0 specification, 4.4): header, JSON padded with blanks, binary padded with zeros. */
export function glbOf(json: unknown, binary?: Uint8Array): Uint8Array {
  const text = encode(JSON.stringify(json));
  const padded = concat(text, encode(' '.repeat((4 - (text.length % 4)) % 4)));
  const body = binary && concat(binary, new Uint8Array((4 - (binary.length % 4)) % 4));
  const chunks = [concat(uint32s(padded.length, 0x4e4f534a), padded)];
  if (body) chunks.push(concat(uint32s(body.length, 0x004e4942), body));
  const length = 12 + chunks.reduce((sum, chunk) => sum + chunk.length, 0);
  return concat(encode('glTF'), uint32s(2, length), ...chunks);
}

export function uint32s(...values: readonly number[]): Uint8Array {
  const view = new DataView(new ArrayBuffer(4 * values.length));
  for (const [i, value] of values.entries()) view.setUint32(4 * i, value, true);
  return new Uint8Array(view.buffer);
}

/** The numbers of a mesh as a glTF buffer: float positions, then uint32 indices; and the JSON that describes them. */
export function gltfParts(
  { positions, indices }: TriMesh,
  primitive: object = {},
  nodes?: readonly object[],
) {
  const binary = concat(
    new Uint8Array(Float32Array.from(positions).buffer),
    new Uint8Array(Uint32Array.from(indices).buffer),
  );
  const json = {
    asset: { version: '2.0', generator: 'a test' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: nodes ?? [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1, ...primitive }] }],
    accessors: [
      { bufferView: 0, componentType: 5126, count: positions.length / 3, type: 'VEC3' },
      { bufferView: 1, componentType: 5125, count: indices.length, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: 4 * positions.length },
      { buffer: 0, byteOffset: 4 * positions.length, byteLength: 4 * indices.length },
    ],
    buffers: [{ byteLength: binary.length }] as { byteLength: number; uri?: string }[],
  };
  return { json, binary };
}

export interface ZipEntry {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly isStored?: boolean;
}

/** A zip archive (PKWARE APPNOTE 4.3): local headers and data, central directory, end record. */
export function zipOf(entries: readonly ZipEntry[]): Uint8Array {
  const parts: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  let at = 0;
  for (const { name, bytes, isStored = false } of entries) {
    const packed = isStored ? bytes : new Uint8Array(deflateRawSync(bytes));
    const nameBytes = encode(name);
    const common = concat(
      uint16s(20, 0, isStored ? 0 : 8, 0, 0),
      uint32s(nodeCrc32(bytes), packed.length, bytes.length),
      uint16s(nameBytes.length, 0),
    );
    const local = concat(uint32s(0x04034b50), common, nameBytes, packed);
    list.push(concat(uint32s(0x02014b50), uint16s(20), common, uint16s(0, 0, 0), uint32s(0, at), nameBytes));
    parts.push(local);
    at += local.length;
  }
  const directory = concat(...list);
  const end = concat(
    uint32s(0x06054b50),
    uint16s(0, 0, entries.length, entries.length),
    uint32s(directory.length, at),
    uint16s(0),
  );
  return concat(...parts, directory, end);
}

function uint16s(...values: readonly number[]): Uint8Array {
  return Uint8Array.from(values.flatMap((value) => [value & 255, value >> 8]));
}

/** A mesh as the <mesh> element of the 3MF core specification 1.3, 4.1. */
export function mesh3mf({ positions, indices }: TriMesh): string {
  let text = '<mesh><vertices>';
  for (let i = 0; i < positions.length; i += 3) {
    text += `<vertex x="${positions[i]}" y="${positions[i + 1]}" z="${positions[i + 2]}"/>\n`;
  }
  text += '</vertices><triangles>';
  for (let i = 0; i < indices.length; i += 3) {
    text += `<triangle v1="${indices[i]}" v2="${indices[i + 1]}" v3="${indices[i + 2]}"/>\n`;
  }
  return `${text}</triangles></mesh>`;
}

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';

/** A model part: its resources and build as XML texts. */
export function model3mf(resources: string, build: string, attributes = 'unit="millimeter"'): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<model ${attributes} xml:lang="en" xmlns="${CORE}"><resources>${resources}</resources><build>${build}</build></model>`;
}

/** A package (3MF core 1.3, chapter 2): content types, relations, the model, and any further parts. */
export function package3mf(model: string | Uint8Array, further: readonly ZipEntry[] = []): Uint8Array {
  return zipOf([
    {
      name: '[Content_Types].xml',
      bytes: encode(
        '<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>',
      ),
    },
    {
      name: '_rels/.rels',
      bytes: encode(
        '<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/figure.model" Id="r0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>',
      ),
    },
    { name: '3D/figure.model', bytes: typeof model === 'string' ? encode(model) : model },
    ...further,
  ]);
}

/** The mesh alone in a package. */
export function simple3mf(mesh: TriMesh, attributes?: string): Uint8Array {
  return package3mf(
    model3mf(`<object id="1" type="model">${mesh3mf(mesh)}</object>`, '<item objectid="1"/>', attributes),
  );
}
