import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { concat, encode, plyOf, stlOf, TETRAHEDRON, TETRAHEDRON_PLY } from './sampleFiles.ts';

describe('files that look like something else', () => {
  it.each(['ply', 'ply\nformat ascii 1.0\n', '<html>', 'PK\x03\x04', 'BM', 'solid'])(
    'a binary STL whose free text is %j is read by its count',
    async (header) => {
      for (const fileName of ['a.stl', 'a.ply', 'a']) {
        const { mesh, format } = await openMesh(stlOf(TETRAHEDRON, header), fileName);
        expect(format).toBe('STL binary');
        expect(mesh.indices.length).toBe(12);
      }
    },
  );

  it('a BMP picture is named as one', async () => {
    // BITMAPFILEHEADER (file size, reserved, place of the pixels) and the size of the header that follows; from memory.
    const bytes = new Uint8Array(3000).fill(200);
    const view = new DataView(bytes.buffer);
    bytes.set(encode('BM'));
    view.setUint32(2, bytes.length, true);
    view.setUint32(6, 0, true);
    view.setUint32(10, 54, true);
    view.setUint32(14, 40, true);
    await expect(openMesh(bytes, 'scan.stl')).rejects.toMatchObject({
      code: 'unknown-format',
      message: expect.stringContaining('a BMP picture'),
    });
  });

  it('a count that is too low is hinted at, because triangles may be missing', async () => {
    const { mesh, notes } = await openMesh(stlOf(TETRAHEDRON, '', 2), 'a.stl');
    expect(mesh.indices.length).toBe(6);
    expect(notes).toMatchObject([
      { code: 'trailing-bytes', count: 100, text: expect.stringContaining('count (byte 80) is too low') },
    ]);
  });
});

// The command prints nothing but its answer on standard output, and @loaders.gl/ply 4.4.5 logs each header line that it
// does not know; it also takes the last "end_header" of the file for the header's end.
describe('nothing is printed while a file is read', () => {
  const spies = (['log', 'info', 'warn', 'error'] as const).map((name) => vi.spyOn(console, name));
  beforeEach(() => {
    for (const spy of spies) spy.mockClear();
  });
  afterEach(() => {
    for (const spy of spies) expect(spy).not.toHaveBeenCalled();
  });

  const plain = plyOf({ format: 'binary_little_endian', type: 'float', ...TETRAHEDRON_PLY });
  const header = new TextDecoder().decode(plain).split('end_header')[0];
  const body = plain.subarray(header.length + 'end_header\n'.length);

  it.each([
    ['plain', header],
    ['a second space', header.replace('element vertex', 'element  vertex')],
    ['indented lines', header.replace('property float y', '  property float y')],
    ['a blank line', header.replace('element face', '\nelement face')],
    ['obj_info', header.replace('element face', 'obj_info made by hand\nelement face')],
    ['a control character in a comment', header.replace('element vertex', 'comment \x07\nelement vertex')],
    ['"end_header" in a comment', header.replace('element vertex', 'comment end_header\nelement vertex')],
  ])('header with %s', async (_name, text) => {
    const { mesh } = await openMesh(concat(encode(`${text}end_header\n`), body), 'a.ply');
    expect([...mesh.positions]).toEqual(TETRAHEDRON_PLY.positions);
    expect([...mesh.indices]).toEqual(TETRAHEDRON_PLY.faces.flat());
  });

  it('data that hold the word "end_header"', async () => {
    const bytes = plain.slice();
    // The last corner's coordinates: letters are sound floats, too.
    bytes.set(encode('end_header\nx'), bytes.length - body.length + 36);
    const { mesh } = await openMesh(bytes, 'a.ply');
    const last = new DataView(encode('end_header\nx').buffer);
    expect([...mesh.positions.subarray(9)]).toEqual([0, 4, 8].map((at) => last.getFloat32(at, true)));
    expect([...mesh.indices]).toEqual(TETRAHEDRON_PLY.faces.flat());
  });
});

describe('large polygons', () => {
  it('can be cancelled while they are split', async () => {
    // Stars of 200 corners, every second one pointing inward: none is convex, each is clipped ear by ear.
    const size = 200;
    const positions = Array.from({ length: size }, (_, i) => {
      const radius = i % 2 === 0 ? 2 : 1;
      const angleRad = (2 * Math.PI * i) / size;
      return [radius * Math.cos(angleRad), radius * Math.sin(angleRad), 0];
    }).flat();
    const star = Array.from({ length: size }, (_, i) => i);
    const bytes = plyOf({
      format: 'binary_big_endian',
      type: 'double',
      positions,
      faces: Array.from({ length: 50 }, () => star),
    });
    const stop = new AbortController();
    const reason = new DOMException('stopped by the test', 'AbortError');
    const phases: string[] = [];
    class EagerCheckpoint extends Checkpoint {
      override due(): boolean {
        return true;
      }
      override within(from: number, to: number, phase: string): Checkpoint {
        return new EagerCheckpoint(listen, stop.signal, from, to, phase);
      }
    }
    const listen = (_fraction: number, phase: string): void => {
      phases.push(phase);
      if (phases.filter((seen) => seen === 'splitting polygons').length === 5) stop.abort(reason);
    };
    await expect(openMesh(bytes, 'a.ply', new EagerCheckpoint(listen, stop.signal))).rejects.toBe(reason);
    expect(phases.filter((seen) => seen === 'splitting polygons')).toHaveLength(5);
  });
});
