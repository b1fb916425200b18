import { strToU8, zipSync } from 'fflate';
import { writePlanBundle } from '../../../src/io/writePlanBundle.ts';
import { writePly } from '../../../src/io/writePly.ts';
import { writeStl } from '../../../src/io/writeStl.ts';
import { octasphere } from '../../fixtures/shapes.ts';
import { asciiStlOf, concat, encode, plyOf, soupOf } from '../sampleFiles.ts';
import {
  boxMesh,
  glbOf,
  gltfParts,
  mesh3mf,
  model3mf,
  objOf,
  package3mf,
  simple3mf,
  uint32s,
} from '../sampleModels.ts';

/** A sound file of one of the formats, to be damaged. */
export interface WholeFile {
  readonly kind: string;
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Length of what describes the rest: it is cut off at each of these bytes. */
  readonly headBytes: number;
  /** A file that was cut off anywhere cannot pass for a whole one. */
  readonly endsForSure: boolean;
  /** The text inside a wrapping that a random change would only break, and how a changed text is wrapped again. */
  readonly inner?: { readonly text: string; wrap(text: string): Uint8Array };
}

const sphere = octasphere(10, 2);
const positions = [...sphere.positions];
const triangles = Array.from({ length: sphere.indices.length / 3 }, (_, t) => [
  ...sphere.indices.subarray(3 * t, 3 * t + 3),
]);
const polygons = [...triangles, [0, 1, 2, 3, 4], [3, 2, 1, 0]];
const box = boxMesh(2, 3, 4);

const { json, binary } = gltfParts(box, {}, [
  { children: [1], rotation: [0, 0, 0.6, 0.8] },
  { mesh: 0, scale: [2, 2, 2] },
]);
const embedded = structuredClone(json);
embedded.buffers[0].uri = `data:application/octet-stream;base64,${Buffer.from(binary).toString('base64')}`;

const nestedModel = model3mf(
  `<object id="1">${mesh3mf(box)}</object><object id="2"><components><component objectid="1"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 9 0 0"/></components></object>`,
  '<item objectid="2"/>',
);

const obj = encode(
  `mtllib a.mtl\no box\n${objOf(box)}vt 0 0\nvn 0 0 1\nf 1//1 4 3/1 2/1/1\nf -8 -7 -3 \\\n -4\nl 1 2\n`,
);
const asciiStl = encode(asciiStlOf(soupOf(sphere)));
const bundle = new Uint8Array(
  writePlanBundle({
    planText: '{"schema":"scute-plan/5"}\n',
    scanName: 'bust.stl',
    scanBytes: writeStl(sphere, 'a sphere').slice().buffer,
    picture: Uint8Array.of(137, 80, 78, 71).buffer,
  }),
);

export const WHOLE_FILES: readonly WholeFile[] = [
  whole('STL binary', 'a.stl', writeStl(sphere, 'a sphere'), 84, true),
  whole('STL ASCII', 'a.stl', asciiStl, 200, false),
  ply('PLY ASCII', { format: 'ascii', type: 'float', positions, faces: polygons }, false),
  whole('PLY that the package reads', 'a.ply', writePly(sphere), 250, true),
  ply(
    'PLY little-endian',
    { format: 'binary_little_endian', type: 'double', positions, faces: polygons },
    true,
  ),
  ply(
    'PLY big-endian, CR LF',
    { format: 'binary_big_endian', type: 'float', positions, faces: triangles, lineEnd: '\r\n' },
    true,
  ),
  whole('OBJ', 'a.obj', obj, obj.length, false),
  {
    ...whole('GLB', 'a.glb', glbOf(json, binary), Number.POSITIVE_INFINITY, true),
    inner: { text: JSON.stringify(json), wrap: wrapInGlb },
  },
  whole('glTF', 'a.gltf', encode(JSON.stringify(embedded)), Number.POSITIVE_INFINITY, true),
  whole('3MF', 'a.3mf', simple3mf(box), Number.POSITIVE_INFINITY, true),
  {
    ...whole('3MF of components', 'b.3mf', package3mf(nestedModel), Number.POSITIVE_INFINITY, true),
    inner: { text: nestedModel, wrap: (text) => package3mf(text) },
  },
  whole('plan with scan', 'a.scute', bundle, 600, true),
  whole(
    'plan with scan, packed anew',
    'b.scute',
    zipSync({ 'x/plan.scute.json': strToU8('{}'), 'x/a.stl': asciiStl, '__MACOSX/x/._a.stl': strToU8('x') }),
    600,
    true,
  ),
];

function whole(
  kind: string,
  name: string,
  bytes: Uint8Array,
  headBytes: number,
  endsForSure: boolean,
): WholeFile {
  return { kind, name, bytes, headBytes: Math.min(headBytes, bytes.length), endsForSure };
}

function ply(kind: string, sample: Parameters<typeof plyOf>[0], endsForSure: boolean): WholeFile {
  return whole(kind, 'a.ply', plyOf(sample), 250, endsForSure);
}

/** A GLB whose JSON is any text. */
function wrapInGlb(text: string): Uint8Array {
  const bytes = encode(text);
  const padded = concat(bytes, encode(' '.repeat((4 - (bytes.length % 4)) % 4)));
  const length = 28 + padded.length + binary.length;
  return concat(
    encode('glTF'),
    uint32s(2, length, padded.length, 0x4e4f534a),
    padded,
    uint32s(binary.length, 0x004e4942),
    binary,
  );
}
