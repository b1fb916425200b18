import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { tryFile } from './fuzz/tryFile.ts';
import { asciiStlOf, concat, encode, packed, plyOf, stlOf } from './sampleFiles.ts';
import { boxMesh, glbOf, gltfParts, mesh3mf, model3mf, objOf, package3mf } from './sampleModels.ts';

/**
 * Files that are sound by their letter and ask for too much, or hold next to nothing. Each is answered within 2 s and 1 GB;
 * one that must be refused says why, by its code.
 */
const MOST_MS = 2000;
const MOST_BYTES = 1e9;

type Answer = 'mesh' | string;
type Hostile = readonly [what: string, name: string, answer: Answer, make: () => Uint8Array];

const FLAT: readonly (readonly number[])[] = [
  [0, 0, 0, 1, 0, 0, 1, 1, 0],
  [0, 0, 0, 1, 1, 0, 0, 1, 0],
];
const box = boxMesh(1, 1, 1);

const FEW: readonly Hostile[] = [
  ['no triangle', 'a.stl', 'no-faces', () => stlOf([])],
  ['no triangle', 'a.stl', 'no-faces', () => encode('solid x\nendsolid x\n')],
  ['no triangle', 'a.ply', 'no-faces', () => plyOf({ ...plain('ascii'), faces: [] })],
  ['no triangle', 'a.ply', 'no-faces', () => plyOf({ ...plain('binary_little_endian'), faces: [] })],
  ['no triangle', 'a.obj', 'no-faces', () => encode('v 0 0 0\nv 1 0 0\nv 0 1 0\n')],
  ['no triangle', 'a.glb', 'no-faces', () => glbOf({ asset: { version: '2.0' } })],
  ['no triangle', 'a.3mf', 'no-faces', () => package3mf(model3mf('', ''))],
  ['one triangle', 'a.stl', 'mesh', () => stlOf(FLAT.slice(0, 1))],
  ['one triangle', 'a.stl', 'mesh', () => encode(asciiStlOf(FLAT.slice(0, 1)))],
  ['one triangle', 'a.ply', 'mesh', () => plyOf({ ...plain('ascii'), faces: [[0, 1, 2]] })],
  ['one triangle', 'a.obj', 'mesh', () => encode('v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n')],
  ['all triangles in a plane', 'a.stl', 'mesh', () => stlOf(FLAT)],
  ['coordinates of 1e30', 'a.stl', 'mesh', () => stlOf(FLAT.map((tri) => tri.map((x) => 1e30 * x)))],
  ['coordinates of 1e300', 'a.obj', 'mesh', () => encode('v 0 0 0\nv 1e300 0 0\nv 0 1e300 0\nf 1 2 3\n')],
  [
    'a polygon of coordinates of 1e300',
    'a.obj',
    'mesh',
    () => encode('v 0 0 0\nv 1e300 0 0\nv 1e300 1e300 0\nv -1e300 1e300 0\nf 1 2 3 4\n'),
  ],
];

const COUNTS: readonly Hostile[] = [
  ['2^32 - 1 triangles', 'a.stl', 'truncated', () => stlOf(FLAT, '', 0xffffffff)],
  ['2^32 - 1 points', 'a.ply', 'count-mismatch', () => plyOf({ ...plain('ascii'), vertexCount: 0xffffffff })],
  [
    '2^32 - 1 points',
    'a.ply',
    'truncated',
    () => plyOf({ ...plain('binary_big_endian'), vertexCount: 0xffffffff }),
  ],
  ['2^32 - 1 faces', 'a.ply', 'truncated', () => plyOf({ ...plain('ascii'), faceCount: 0xffffffff })],
  [
    '2^32 - 1 faces',
    'a.ply',
    'truncated',
    () => plyOf({ ...plain('binary_little_endian'), faceCount: 0xffffffff }),
  ],
  ['2^32 - 1 rows of nothing', 'a.ply', 'mesh', () => withElement('element nothing 4294967295\n')],
  ['a list of 2^32 - 1 corners', 'a.ply', 'truncated', () => longList()],
  [
    'an accessor of 2^32 - 1 points',
    'a.glb',
    'truncated',
    () => {
      const { json, binary } = gltfParts(box);
      json.accessors[0].count = 0xffffffff;
      return glbOf(json, binary);
    },
  ],
  ['a corner 2^32 - 1', 'a.obj', 'index-out-of-range', () => encode('v 0 0 0\nf 1 1 4294967295\n')],
];

const DEEP: readonly Hostile[] = [
  [
    '100,000 elements of a header',
    'a.ply',
    'bad-header',
    () => withElement(lines(100_000, (i) => `element e${i} 0`)),
  ],
  [
    '19,000 elements of a header',
    'a.ply',
    'mesh',
    () => withElement(lines(19_000, (i) => `element e${i} 0`)),
  ],
  [
    '19,000 properties of one element',
    'a.ply',
    'truncated',
    () => withElement(`element e 1\n${lines(19_000, (i) => `property float p${i}`)}`),
  ],
  ['components 30,000 deep', 'a.3mf', 'bad-value', () => chainOf3mf(30_000, 1)],
  ['components that double 31 times', 'a.3mf', 'too-large', () => chainOf3mf(31, 2)],
  [
    'components of themselves',
    'a.3mf',
    'bad-value',
    () =>
      package3mf(
        model3mf(
          '<object id="1"><components><component objectid="1"/></components></object>',
          '<item objectid="1"/>',
        ),
      ),
  ],
  ['XML elements 200,000 deep', 'a.3mf', 'bad-value', () => package3mf(model3mf('<a>'.repeat(200_000), ''))],
  ['JSON 1,000,000 deep', 'a.glb', 'bad-header', () => glbOfText('['.repeat(1_000_000))],
  [
    'JSON 1,000,000 deep, and closed',
    'a.glb',
    'bad-value',
    () => glbOfText(`{"asset":{"version":"2.0"},"nodes":${'['.repeat(1e6)}${']'.repeat(1e6)}}`),
  ],
  [
    'nodes 50,000 deep',
    'a.glb',
    'mesh',
    () => {
      const nodes = Array.from({ length: 50_000 }, (_, i) => ({ children: [i + 1] }) as object);
      const { json, binary } = gltfParts(box, {}, [...nodes, { mesh: 0 }]);
      return glbOf(json, binary);
    },
  ],
];

const GREEDY: readonly Hostile[] = [
  ['a bomb of blanks', 'a.3mf', 'too-large', () => package3mf(model3mf(' '.repeat(12_000_000), ''))],
  ['a bomb of open elements', 'a.3mf', 'bad-value', () => package3mf(model3mf('<a>'.repeat(2_500_000), ''))],
  ['a bomb of one name', 'a.3mf', 'too-large', () => package3mf(model3mf(`<${'a'.repeat(12_000_000)}`, ''))],
  [
    'a bomb of attributes',
    'a.3mf',
    'bad-value',
    () => package3mf(model3mf(`<object ${lines(1_000_000, (i) => `a${i}=""`)}/>`, '')),
  ],
  [
    'a bomb of items',
    'a.3mf',
    'too-large',
    () => package3mf(model3mf(mesh1(), '<item objectid="1"/>'.repeat(300_000))),
  ],
  [
    'a bomb of a scan',
    'a.scute',
    'too-large',
    () => zipSync({ 'plan.scute.json': strToU8('{}'), 'a.stl': new Uint8Array(40_000_000) }, { level: 1 }),
  ],
  [
    'one part placed 20,000 times',
    'a.3mf',
    'too-large',
    () =>
      package3mf(
        model3mf(`<object id="1">${mesh3mf(sheet(50))}</object>`, '<item objectid="1"/>'.repeat(20_000)),
      ),
  ],
  [
    'points without triangles placed 20,000 times',
    'a.3mf',
    'too-large',
    () =>
      package3mf(
        model3mf(
          `<object id="1">${mesh3mf({ positions: sheet(100).positions, indices: Uint32Array.of(0, 1, 2) })}</object>`,
          '<item objectid="1"/>'.repeat(20_000),
        ),
      ),
  ],
  [
    'one mesh at 20,000 nodes',
    'a.glb',
    'too-large',
    () => {
      const nodes = Array.from({ length: 20_000 }, () => ({ mesh: 0 }));
      const { json, binary } = gltfParts(sheet(100), {}, nodes);
      return glbOf({ ...json, scenes: [{ nodes: nodes.map((_, i) => i) }] }, binary);
    },
  ],
  [
    'one accessor of 20,000 primitives',
    'a.glb',
    'too-large',
    () => {
      const { json, binary } = gltfParts(sheet(100));
      const [primitive] = json.meshes[0].primitives;
      return glbOf(
        { ...json, meshes: [{ primitives: Array.from({ length: 20_000 }, () => primitive) }] },
        binary,
      );
    },
  ],
  [
    '20,000 accessors of nothing',
    'a.glb',
    'too-large',
    () => {
      const { json, binary } = gltfParts(box);
      const count = 999_999;
      const accessors = Array.from({ length: 20_000 }, () => ({ componentType: 5126, count, type: 'VEC3' }));
      const primitives = accessors.map((_, i) => ({ attributes: { POSITION: i } }));
      return glbOf({ ...json, accessors, meshes: [{ primitives }] }, concat(binary, new Uint8Array(count)));
    },
  ],
  ['ribbons wound up, of 4096 corners', 'a.obj', 'too-large', () => encode(spirals(20))],
  ['jagged rings of 4000 corners', 'a.obj', 'mesh', () => encode(rings(10))],
];

/** Names that lead out of a folder, steer a terminal or a page, or are those that every object has. */
const NAMES = [
  '../../a',
  '<img src=x onerror=alert(1)>',
  '__proto__',
  'constructor',
  'a\u0000b',
  '\u202egnp',
  '',
  'CON',
  '\u001b[31m',
];

describe.each([
  ['that hold next to nothing', FEW],
  ['whose counts promise too much', COUNTS],
  ['nested deeply', DEEP],
  ['that unpack, or add up, to too much', GREEDY],
] as const)('files %s', (_title, files) => {
  it.each(files)('%s in %s: %s', async (_what, name, answer, make) => {
    const bytes = make();
    const outcome = await tryFile(bytes, name);
    expect(outcome.is === 'mesh' ? 'mesh' : outcome.code, outcome.text).toBe(answer);
    expect(outcome.tookMs).toBeLessThan(MOST_MS);
    // Kilobytes, at its highest since the process began, this test's own files included.
    expect(1024 * process.resourceUsage().maxRSS).toBeLessThan(MOST_BYTES);
  });
});

describe('odd names', () => {
  it.each(NAMES)('%j: as a part, an object, a file', async (name) => {
    const xml = name.replace(/[<>&"\p{Cc}]/gu, '_');
    const archive = zipSync({ [`${name}x`]: strToU8('x'), 'plan.scute.json': strToU8('{}') });
    for (const [bytes, as] of [
      [
        package3mf(model3mf(`<object id="${xml}">${mesh3mf(box)}</object>`, `<item objectid="${xml}"/>`)),
        'a.3mf',
      ],
      [package3mf(model3mf('', `<item objectid="${xml}"/>`)), 'a.3mf'],
      [package3mf(model3mf('', `<item objectid="1" p:path="${xml}" xmlns:p="p"/>`)), 'a.3mf'],
      [archive, 'a.scute'],
      [encode(`o ${name}\n${objOf(box)}`), `${name}.obj`],
      [encode(`${name} 1 2\n${objOf(box)}`), `${name}.obj`],
      [encode(asciiStlOf(FLAT, name)), name],
      [withElement(`element ${name} 0\n`), `${name}.ply`],
      [encode(JSON.stringify({ asset: { version: '2.0' }, extensionsRequired: [name] })), `${name}.gltf`],
    ] as const) {
      const outcome = await tryFile(bytes, as);
      expect(outcome.is, `${as}: ${outcome.text}`).not.toBe('fault');
    }
  });
});

function plain(format: 'ascii' | 'binary_little_endian' | 'binary_big_endian') {
  return { format, type: 'float', positions: [0, 0, 0, 1, 0, 0, 0, 1, 0], faces: [[0, 1, 2]] } as const;
}

const lines = (count: number, line: (i: number) => string): string =>
  `${Array.from({ length: count }, (_, i) => line(i)).join('\n')}\n`;

/** A triangle in binary PLY, whose header declares further elements, after the faces. */
function withElement(declared: string): Uint8Array {
  const text = new TextDecoder('latin1').decode(plyOf(plain('binary_little_endian')));
  const at = text.indexOf('end_header');
  const whole = plyOf(plain('binary_little_endian'));
  return concat(whole.subarray(0, at), encode(declared), whole.subarray(at));
}

function longList(): Uint8Array {
  const header =
    'ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uint int vertex_indices\nend_header\n';
  return concat(
    encode(header),
    packed(
      [
        ['float', 0],
        ['float', 0],
        ['float', 0],
        ['uint', 0xffffffff],
        ['int', 0],
      ],
      true,
    ),
  );
}

/** Objects made of the one before, `times` times each. */
function chainOf3mf(length: number, times: number): Uint8Array {
  const objects = Array.from(
    { length },
    (_, i) =>
      `<object id="${i + 2}"><components>${`<component objectid="${i + 1}"/>`.repeat(times)}</components></object>`,
  );
  return package3mf(model3mf(mesh1() + objects.join(''), `<item objectid="${length + 1}"/>`));
}

const mesh1 = (): string => `<object id="1">${mesh3mf(box)}</object>`;

function glbOfText(text: string): Uint8Array {
  const json = encode(text);
  const whole = glbOf({}, undefined);
  const bytes = concat(whole.subarray(0, 20), json);
  const view = new DataView(bytes.buffer);
  view.setUint32(8, bytes.length, true);
  view.setUint32(12, json.length, true);
  return bytes;
}

/** A flat square of n x n pairs of triangles. */
function sheet(n: number) {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i <= n; i++) for (let j = 0; j <= n; j++) positions.push(i, j, 0);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const a = i * (n + 1) + j;
      indices.push(a, a + n + 1, a + 1, a + 1, a + n + 1, a + n + 2);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** The ring of a cut through a scan of 0.2 mm noise, named by many faces. */
function rings(count: number): string {
  const random = seededRandom(5);
  const corners = Array.from({ length: 4000 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 4000;
    const radius = 100 + 20 * Math.cos(3 * angle) + 0.2 * random();
    return `v ${(radius * Math.cos(angle)).toFixed(4)} ${(radius * Math.sin(angle)).toFixed(4)} 0`;
  });
  const face = `f ${corners.map((_, i) => i + 1).join(' ')}`;
  return `${corners.join('\n')}\n${lines(count, () => face)}`;
}

/** A ribbon wound up in a plane, 4096 corners, named by many faces. */
function spirals(count: number): string {
  const corners: string[] = [];
  const back: string[] = [];
  for (let i = 0; i < 2048; i++) {
    const angle = 0.1 * i;
    const at = (radius: number): string =>
      `v ${(radius * Math.cos(angle)).toFixed(4)} ${(radius * Math.sin(angle)).toFixed(4)} 0`;
    corners.push(at(10 + angle));
    back.push(at(12 + angle));
  }
  const face = `f ${Array.from({ length: 4096 }, (_, i) => i + 1).join(' ')}`;
  return `${[...corners, ...back.reverse()].join('\n')}\n${Array.from({ length: count }, () => face).join('\n')}\n`;
}
