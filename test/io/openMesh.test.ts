import { deflateSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writePly } from '../../src/io/writePly.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { torus } from '../fixtures/shapes.ts';
import { asciiStlOf, concat, encode, plyOf, soupOf, TETRAHEDRON_PLY } from './sampleFiles.ts';
import { glbOf, gltfParts, objOf, simple3mf } from './sampleModels.ts';

/** Bytes that look like compressed data: not text, and no STL. */
const packedBytes = new Uint8Array(deflateSync(encode('plaster '.repeat(40) + Math.PI)));

const latin = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0));

describe('openMesh refuses what is no mesh, and says what it is', () => {
  it.each([
    ['a PNG', concat(latin('\x89PNG\r\n\x1a\n\0\0\0\rIHDR'), packedBytes), /a PNG picture/],
    ['a JPEG', concat(latin('\xff\xd8\xff\xe0\0\x10JFIF'), packedBytes), /a JPEG picture/],
    ['a GIF', concat(latin('GIF89a'), packedBytes), /a GIF picture/],
    ['a zip archive', concat(latin('PK\x03\x04'), packedBytes), /a zip archive/],
    ['a gzip archive', new Uint8Array(gzipSync('solid')), /a gzip archive/],
    ['a PDF', concat(latin('%PDF-1.7\n'), packedBytes), /a PDF document/],
    ['a web page', encode('\n<!DOCTYPE html><html><body>Not found'), /a web page/],
    ['JSON', encode('{"message":"Not found"}'), /a JSON document/],
    [
      'a large-file pointer',
      encode('version https://git-lfs.github.com/spec/v1\noid sha256:0\n'),
      /a pointer/,
    ],
    ['a letter', encode('Dear mould-maker,\nplease find the scan attached.\n'), /a text/],
    ['a PLY without its first line', encode('format ascii 1.0\nelement vertex 3\n'), /a text/],
  ])('%s', async (_name, bytes, message) => {
    for (const fileName of ['scan.stl', 'scan.ply', 'scan']) {
      await expect(openMesh(bytes, fileName)).rejects.toMatchObject({
        name: 'MeshError',
        code: 'unknown-format',
        message: expect.stringMatching(message),
      });
    }
  });

  it('an empty file', async () => {
    await expect(openMesh(new Uint8Array(0), 'scan.stl')).rejects.toMatchObject({ code: 'empty-file' });
  });

  it('bytes of no known kind, by the name that they carry', async () => {
    const bytes = Uint8Array.from({ length: 500 }, (_, i) => (i * 197) % 256);
    await expect(openMesh(bytes, 'scan.stl')).rejects.toMatchObject({ code: 'truncated' });
    await expect(openMesh(bytes, 'scan.ply')).rejects.toMatchObject({ code: 'bad-header' });
    await expect(openMesh(bytes, 'scan')).rejects.toMatchObject({ code: 'unknown-format' });
  });

  it('never repeats raw text of the file or of its name', async () => {
    const text = asciiStlOf([[0, 0, 0, 1, 0, 0, 0, 1, 0]]).replace('outer', '\x1b[31m<img>'.repeat(20));
    for (const [bytes, name] of [
      [encode(text), 'a.stl'],
      [encode('hello'), '\x1b[2J\n.stl'],
    ] as const) {
      const error = await openMesh(bytes, name).catch((thrown: Error) => thrown);
      expect(error).toBeInstanceOf(Error);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not be there.
      expect((error as Error).message).not.toMatch(/[\x00-\x1f\x7f]/);
      expect((error as Error).message.length).toBeLessThan(400);
    }
  });
});

/** Turned a quarter and set ten times beside itself, so that there are places to work out. */
function placedGlb(mesh: TriMesh): Uint8Array {
  const nodes = Array.from({ length: 10 }, (_, i) => ({
    mesh: 0,
    translation: [300 * i, 0, 0],
    rotation: [0, 0, Math.SQRT1_2, Math.SQRT1_2],
  }));
  const { json, binary } = gltfParts(mesh, {}, nodes);
  return glbOf({ ...json, scenes: [{ nodes: nodes.map((_, i) => i) }] }, binary);
}

describe('openMesh at work', () => {
  const large = torus(100, 30, 700, 400);

  it.each([
    ['STL binary', writeStl(large)],
    ['STL ASCII', encode(asciiStlOf(soupOf(torus(100, 30, 200, 150))))],
    ['PLY binary little-endian', writePly(large, { precision: 'float64' })],
    [
      'PLY ASCII',
      plyOf({ format: 'ascii', type: 'float', positions: [...large.positions], faces: [[0, 1, 2]] }),
    ],
    ['OBJ', encode(objOf(torus(100, 30, 300, 200)))],
    ['GLB', placedGlb(large)],
    ['3MF', simple3mf(torus(100, 30, 200, 150))],
  ])('reports rising progress and stops when cancelled: %s', async (format, bytes) => {
    const fractions: number[] = [];
    // A clock of its own: due at every look, whatever the machine's speed.
    class EagerCheckpoint extends Checkpoint {
      override due(): boolean {
        return true;
      }
    }
    expect((await openMesh(bytes, 'a', new EagerCheckpoint((f) => fractions.push(f)))).format).toBe(format);
    expect(fractions.length).toBeGreaterThan(5);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(fractions.every((f) => f >= 0 && f <= 1)).toBe(true);

    const stop = new AbortController();
    let seen = 0;
    const reason = new DOMException('stopped by the test', 'AbortError');
    const cancelled = openMesh(
      bytes,
      'a',
      new EagerCheckpoint(() => {
        if (++seen === 3) stop.abort(reason);
      }, stop.signal),
    );
    await expect(cancelled).rejects.toBe(reason);
    expect(seen).toBe(3);
  });

  it('reads back what the writers write', async () => {
    const mesh = torus(100, 30, 40, 20);
    const exact = await openMesh(
      writePly(mesh, { precision: 'float64', comment: 'ein Täst\nelement' }),
      'a.ply',
    );
    expect(exact.mesh).toEqual(mesh);
    const rounded = { positions: mesh.positions.map(Math.fround), indices: mesh.indices };
    expect((await openMesh(writePly(mesh), 'a.ply')).mesh).toEqual(rounded);
    expect(soupOf((await openMesh(writeStl(mesh, 'a ring'), 'a.stl')).mesh)).toEqual(soupOf(rounded));
  });

  it('takes an ArrayBuffer as well as a view', async () => {
    const bytes = plyOf({ format: 'binary_big_endian', type: 'float', ...TETRAHEDRON_PLY });
    expect(await openMesh(new Uint8Array(bytes).buffer, 'a.ply')).toEqual(await openMesh(bytes, 'a.ply'));
  });
});
