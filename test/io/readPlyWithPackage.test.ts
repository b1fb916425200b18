import { readFileSync } from 'node:fs';
import { parse } from '@loaders.gl/core';
import { PLYLoader } from '@loaders.gl/ply';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { parsePlyHeader } from '../../src/io/plyHeader.ts';
import { readPlyAscii } from '../../src/io/readPlyAscii.ts';
import { readPlyBinary } from '../../src/io/readPlyBinary.ts';
import { isReadRightByPackage, readPlyWithPackage } from '../../src/io/readPlyWithPackage.ts';
import { writePly } from '../../src/io/writePly.ts';
import { octasphere, torus } from '../fixtures/shapes.ts';
import { concat, encode, packed, plyOf, TETRAHEDRON_PLY } from './sampleFiles.ts';

const bufferOf = (bytes: Uint8Array): ArrayBuffer => new Uint8Array(bytes).buffer;

const isHanded = (bytes: Uint8Array): boolean => isReadRightByPackage(parsePlyHeader(bytes), bytes.length);

async function readOurselves(bytes: Uint8Array): Promise<TriMesh> {
  const header = parsePlyHeader(bytes);
  const read = header.format === 'ascii' ? readPlyAscii : readPlyBinary;
  return (await read(bytes, header, new Checkpoint())).mesh;
}

async function readByPackage(bytes: Uint8Array): Promise<{ positions: number[]; indices: number[] }> {
  const read = await parse(bufferOf(bytes), PLYLoader, { core: { worker: false } });
  return {
    positions: [...(read.attributes['POSITION']?.value ?? [])],
    indices: [...(read.indices?.value ?? [])],
  };
}

/** As the package might meet it: colours and normals beside the coordinates, big-endian. */
function decorated(mesh: TriMesh): Uint8Array {
  const header = `ply\nformat binary_big_endian 1.0\ncomment with colours\nelement vertex ${mesh.positions.length / 3}
property float x\nproperty float y\nproperty float z\nproperty float nx\nproperty float ny\nproperty float nz
property uchar red\nproperty uchar green\nproperty uchar blue\nproperty uchar alpha
element face ${mesh.indices.length / 3}\nproperty list uchar uint vertex_index\nend_header\n`;
  const values: Parameters<typeof packed>[0][number][] = [];
  for (let i = 0; i < mesh.positions.length; i += 3) {
    for (let k = 0; k < 3; k++) values.push(['float', mesh.positions[i + k]]);
    values.push(
      ['float', 0],
      ['float', 0],
      ['float', 1],
      ['uchar', 10],
      ['uchar', 13],
      ['uchar', 32],
      ['uchar', 255],
    );
  }
  for (let i = 0; i < mesh.indices.length; i += 3) {
    values.push(['uchar', 3], ...[0, 1, 2].map((k) => ['uint', mesh.indices[i + k]] as const));
  }
  return concat(encode(header), packed(values, false));
}

describe('our reader and the package, held against each other on files that both read right', () => {
  it.each([
    ['a sphere, little-endian', writePly(octasphere(35, 12), { comment: 'a sphere' })],
    ['a torus, little-endian', writePly(torus(30, 10, 50, 20))],
    ['a sphere, big-endian, with colours and normals', decorated(octasphere(35, 12))],
  ])('%s', async (_name, bytes) => {
    expect(isHanded(bytes)).toBe(true);
    const handed = await readPlyWithPackage(bufferOf(bytes), parsePlyHeader(bytes));
    const ours = await readOurselves(bytes);
    expect(handed?.positions).toEqual(ours.positions);
    expect(handed?.indices).toEqual(ours.indices);
  });

  it('demosthenes.ply (ASCII, so never handed over), apart from rounding to float32', async () => {
    const bytes = readFileSync(new URL('../fixtures/demosthenes.ply', import.meta.url));
    expect(isHanded(bytes)).toBe(false);
    const theirs = await readByPackage(bytes);
    const ours = await readOurselves(bytes);
    expect(theirs.positions).toEqual([...ours.positions].map(Math.fround));
    expect(theirs.indices).toEqual([...ours.indices]);
  });
});

// Found by test with @loaders.gl/ply 4.4.5. When one of these fails the package has changed for the better, and more
// files can be handed to it.
describe('what the package reads wrongly is not handed to it', () => {
  const binary = { format: 'binary_little_endian', type: 'float', ...TETRAHEDRON_PLY } as const;

  it('doubles, which it rounds to float32', async () => {
    const positions = TETRAHEDRON_PLY.positions.map((value) => value + 0.1);
    const bytes = plyOf({ ...binary, type: 'double', positions });
    expect((await readByPackage(bytes)).positions).not.toEqual(positions);
    expect([...(await readOurselves(bytes)).positions]).toEqual(positions);
    expect(isHanded(bytes)).toBe(false);
  });

  it('faces of five corners, which it drops', async () => {
    const positions = [0, 0, 0, 2, 0, 0, 3, 1, 0, 1, 2, 0, 0, 1, 0];
    const bytes = plyOf({
      ...binary,
      positions,
      faces: [
        [0, 1, 2, 3, 4],
        [0, 2, 1],
      ],
    });
    expect((await readByPackage(bytes)).indices.length).toBe(3);
    expect((await readOurselves(bytes)).indices.length).toBe(3 * 4);
    expect(isHanded(bytes)).toBe(false);
  });

  it('headers beyond ASCII or with CR LF, whose length it counts wrongly', async () => {
    for (const change of [{ comment: 'Gießform' }, { lineEnd: '\r\n' }]) {
      const bytes = plyOf({ ...binary, ...change });
      const theirs = await readByPackage(bytes).catch(() => undefined);
      expect(theirs?.indices).not.toEqual(TETRAHEDRON_PLY.faces.flat());
      expect(isHanded(bytes)).toBe(false);
    }
  });

  it('ASCII that was cut off, which it takes for whole', async () => {
    const whole = plyOf({ ...binary, format: 'ascii' });
    const cut = whole.slice(0, whole.length - 8);
    expect((await readByPackage(cut)).indices.length).toBe(3 * 3);
    expect(isHanded(cut)).toBe(false);
  });

  it('indices out of range and NaN: handed over by their header, then read again to say where', async () => {
    const outside = plyOf({ ...binary, faces: [...TETRAHEDRON_PLY.faces, [0, 1, 99]] });
    expect((await readByPackage(outside)).indices).toContain(99);
    const nan = plyOf({ ...binary, positions: [Number.NaN, ...TETRAHEDRON_PLY.positions.slice(1)] });
    expect((await readByPackage(nan)).positions[0]).toBeNaN();
    for (const bytes of [outside, nan]) {
      expect(isHanded(bytes)).toBe(true);
      expect(await readPlyWithPackage(bufferOf(bytes), parsePlyHeader(bytes))).toBeUndefined();
    }
  });
});
