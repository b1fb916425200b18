import { describe, expect, it } from 'vitest';
import { MeshError } from '../../src/core/errors.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { concat, encode } from './sampleFiles.ts';
import {
  boxMesh,
  glbOf,
  gltfParts,
  mesh3mf,
  model3mf,
  objOf,
  package3mf,
  simple3mf,
} from './sampleModels.ts';

/** No damaged small file may take longer, ms: the slowest of the runs, on a machine that does other things besides. */
const MOST_MS = 2000;

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

const FILES: readonly (readonly [string, Uint8Array])[] = [
  [
    'a.obj',
    encode(
      `mtllib a.mtl\no box\n${objOf(box)}vt 0 0\nvn 0 0 1\nf 1//1 4 3/1 2/1/1\nf -8 -7 -3 \\\n -4\nl 1 2\n`,
    ),
  ],
  ['a.glb', glbOf(json, binary)],
  ['a.gltf', encode(JSON.stringify(embedded))],
  ['a.3mf', simple3mf(box)],
  ['b.3mf', package3mf(nestedModel)],
];

/** A sound mesh or a MeshError with a sentence, within the time; anything else fails. */
async function outcomeOf(bytes: Uint8Array, name: string): Promise<'mesh' | 'refusal'> {
  const from = performance.now();
  try {
    const { mesh } = await openMesh(bytes, name);
    const vertCount = mesh.positions.length / 3;
    expect(mesh.indices.length).toBeGreaterThan(0);
    expect(mesh.indices.length % 3).toBe(0);
    expect(Number.isInteger(vertCount)).toBe(true);
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    expect(mesh.indices.every((vert) => vert < vertCount)).toBe(true);
    return 'mesh';
  } catch (error) {
    if (!(error instanceof MeshError)) throw error;
    expect(error.message).toMatch(/^[\x20-\x7e\p{L}\p{M}\p{N}\p{P}\p{S}]{20,500}\.$/u);
    expect(error.code).not.toBe('too-large');
    expect(error.place.byte ?? 0).toBeLessThanOrEqual(bytes.length);
    return 'refusal';
  } finally {
    expect(performance.now() - from).toBeLessThan(MOST_MS);
  }
}

describe.each(FILES)('%s, damaged', (name, file) => {
  it('is sound before', async () => {
    expect(await outcomeOf(file, name)).toBe('mesh');
  });

  it('cut off at every byte: a mesh or a refusal, a GLB and a 3MF always a refusal', async () => {
    const seen = { mesh: 0, refusal: 0 };
    for (let length = 0; length < file.length; length++) seen[await outcomeOf(file.slice(0, length), name)]++;
    expect(seen.refusal).toBeGreaterThan(0);
    if (/glb|3mf|gltf/.test(name)) expect(seen.mesh).toBe(0);
  });

  it('bytes changed, taken out and put in at 300 seeded places (seed 11): a mesh or a refusal', async () => {
    const random = seededRandom(11);
    const seen = { mesh: 0, refusal: 0 };
    for (let run = 0; run < 300; run++) {
      let bytes = file;
      for (let n = Math.floor(3 * random()); n >= 0; n--) {
        const at = Math.floor(random() * bytes.length);
        const taken = Math.floor(random() * [1, 2, 9, 200][Math.floor(4 * random())]);
        const put = PUT[Math.floor(random() * PUT.length)];
        bytes = concat(bytes.subarray(0, at), put, bytes.subarray(at + taken));
      }
      seen[await outcomeOf(bytes, run % 3 === 0 ? 'a' : name)]++;
    }
    expect(seen.refusal).toBeGreaterThan(0);
  });
});

const PUT: readonly Uint8Array[] = [
  new Uint8Array(0),
  Uint8Array.of(0),
  Uint8Array.of(0xff, 0xff, 0xff, 0xff),
  Uint8Array.of(0, 0, 0xc0, 0x7f),
  ...[
    '1',
    '-1',
    '9',
    ' ',
    '\n',
    '"',
    '{',
    ']',
    'null',
    'nan',
    '1e999',
    '4294967295',
    '<',
    '/>',
    '&x;',
    '\\\n',
    'f 1 2 3\n',
  ].map(encode),
];

describe('the JSON of a GLB and the XML of a 3MF, damaged inside a sound wrapping', () => {
  const text = JSON.stringify(json);
  it.each([
    ['GLB', text, (changed: string) => rewrap(changed)],
    ['3MF', nestedModel, (changed: string) => package3mf(changed)],
  ])('%s: 300 seeded changes (seed 12): a mesh or a refusal', async (_name, whole, wrap) => {
    const random = seededRandom(12);
    const seen = { mesh: 0, refusal: 0 };
    for (let run = 0; run < 300; run++) {
      const at = Math.floor(random() * whole.length);
      const put = ['', '0', '7', '-', '99999', '[', '{}', 'null', '"', '.5', 'e9', '1e400', '<mesh>', 'x'][
        Math.floor(14 * random())
      ];
      const changed = whole.slice(0, at) + put + whole.slice(at + Math.floor(random() * 4));
      seen[await outcomeOf(wrap(changed), 'a')]++;
    }
    expect(seen.mesh).toBeGreaterThan(0);
    expect(seen.refusal).toBeGreaterThan(0);
  });
});

/** A GLB whose JSON is any text. */
function rewrap(text: string): Uint8Array {
  const bytes = encode(text);
  const padded = concat(bytes, encode(' '.repeat((4 - (bytes.length % 4)) % 4)));
  const whole = concat(new Uint8Array(20), padded, new Uint8Array(8), binary);
  const view = new DataView(whole.buffer);
  whole.set(encode('glTF'));
  view.setUint32(4, 2, true);
  view.setUint32(8, whole.length, true);
  view.setUint32(12, padded.length, true);
  view.setUint32(16, 0x4e4f534a, true);
  view.setUint32(20 + padded.length, binary.length, true);
  view.setUint32(24 + padded.length, 0x004e4942, true);
  return whole;
}
