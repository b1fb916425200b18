import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MeshError } from '../../src/core/errors.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writePly } from '../../src/io/writePly.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { asciiStlOf, concat, encode, plyOf, soupOf } from './sampleFiles.ts';

/** SCUTE_CAMPAIGN=1 tries many more. */
const RUNS = process.env['SCUTE_CAMPAIGN'] === '1' ? 20000 : 400;

const sphere = octasphere(10, 2);
const faces = Array.from({ length: sphere.indices.length / 3 }, (_, t) => [
  ...sphere.indices.subarray(3 * t, 3 * t + 3),
]);
const polygons = [...faces, [0, 1, 2, 3, 4], [3, 2, 1, 0]];
const positions = [...sphere.positions];

const FILES: readonly (readonly [string, Uint8Array])[] = [
  ['STL binary', writeStl(sphere, 'a sphere')],
  ['STL ASCII', encode(asciiStlOf(soupOf(sphere)))],
  ['PLY ASCII', plyOf({ format: 'ascii', type: 'float', positions, faces: polygons })],
  ['PLY little-endian, handed to the package', writePly(sphere)],
  [
    'PLY little-endian',
    plyOf({ format: 'binary_little_endian', type: 'double', positions, faces: polygons }),
  ],
  [
    'PLY big-endian, CR LF',
    plyOf({ format: 'binary_big_endian', type: 'float', positions, faces, lineEnd: '\r\n' }),
  ],
];

/** One change: bytes replaced, taken out, or put in, at a place given as a share of the file, nearer its head more often. */
const change = fc.record({
  place: fc.double({ min: 0, max: 1, noNaN: true }).map((share) => share ** 2),
  taken: fc.oneof(fc.constant(0), fc.constant(1), fc.nat(8), fc.nat(2000)),
  put: fc.oneof(
    fc.uint8Array({ maxLength: 8 }),
    fc
      .constantFrom(
        '\n',
        ' ',
        '-',
        'nan',
        '1e999',
        '4294967295',
        '-1',
        '99',
        'list',
        'end_header\n',
        'facet',
        '\r',
        '\0',
      )
      .map(encode),
    fc.constant(Uint8Array.of(0xff, 0xff, 0xff, 0xff)),
    fc.constant(Uint8Array.of(0x7f, 0x80, 0, 0)),
  ),
});

function applied(
  file: Uint8Array,
  changes: readonly { place: number; taken: number; put: Uint8Array }[],
): Uint8Array {
  return changes.reduce((bytes, { place, taken, put }) => {
    const at = Math.floor(place * bytes.length);
    return concat(bytes.subarray(0, at), put, bytes.subarray(at + taken));
  }, file);
}

/** A sound mesh, or a MeshError whose message has a sentence to say and whose place lies in the file. */
async function expectMeshOrRefusal(bytes: Uint8Array, name: string): Promise<'mesh' | 'refusal'> {
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
    // Files this small need no memory to speak of: such a refusal would hide a reader that looks past the end.
    expect(error.code).not.toBe('too-large');
    expect(error.place.byte ?? 0).toBeLessThanOrEqual(bytes.length);
    return 'refusal';
  }
}

describe.each(FILES)('%s, damaged', (_name, file) => {
  it('gives a sound mesh or a MeshError, never anything else', async () => {
    const seen = { mesh: 0, refusal: 0 };
    await fc.assert(
      fc.asyncProperty(
        fc.array(change, { minLength: 1, maxLength: 3 }),
        fc.constantFrom('a.stl', 'a.ply', 'a'),
        async (changes, fileName) => {
          seen[await expectMeshOrRefusal(applied(file, changes), fileName)]++;
        },
      ),
      { seed: 6, numRuns: RUNS },
    );
    // Both outcomes must occur, or the damage is too heavy or too light to tell anything.
    expect(seen.mesh).toBeGreaterThan(0);
    expect(seen.refusal).toBeGreaterThan(0);
  });
});

describe('bytes of any kind', () => {
  it('give a sound mesh or a MeshError, never anything else', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(fc.uint8Array({ maxLength: 600 }), fc.string({ maxLength: 300 }).map(encode)),
        fc.constantFrom(
          '',
          'solid ',
          'solid x\nfacet ',
          'ply\n',
          'ply\nformat ascii 1.0\nelement vertex 3\n',
        ),
        fc.constantFrom('a.stl', 'a.ply', 'a'),
        async (bytes, head, fileName) => {
          await expectMeshOrRefusal(concat(encode(head), bytes), fileName);
        },
      ),
      { seed: 7, numRuns: RUNS },
    );
  });
});
