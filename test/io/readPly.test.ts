import { readFileSync } from 'node:fs';
import { PLYLoader } from 'three/examples/jsm/loaders/PLYLoader.js';
import { describe, expect, it } from 'vitest';
import { openMesh } from '../../src/io/openMesh.ts';
import { concat, encode, packed, plyOf, TETRAHEDRON_PLY } from './sampleFiles.ts';

const FORMATS = ['ascii', 'binary_little_endian', 'binary_big_endian'] as const;

/** An origin of its own far from 0: float32 would move these by up to half a unit of its last place, 0.03. */
const FAR = TETRAHEDRON_PLY.positions.map((value) => value / 8 + 512345.123456789);

describe.each(FORMATS)('PLY %s', (format) => {
  it.each(['float', 'double'] as const)('reads a tetrahedron of %s', async (type) => {
    const { mesh, notes } = await openMesh(plyOf({ format, type, ...TETRAHEDRON_PLY }), 'a.ply');
    expect([...mesh.positions]).toEqual(TETRAHEDRON_PLY.positions);
    expect([...mesh.indices]).toEqual(TETRAHEDRON_PLY.faces.flat());
    expect(notes).toEqual([]);
  });

  it('keeps every digit of doubles', async () => {
    const bytes = plyOf({ format, type: 'double', positions: FAR, faces: TETRAHEDRON_PLY.faces });
    expect([...(await openMesh(bytes, 'a.ply')).mesh.positions]).toEqual(FAR);
  });

  it.each([
    ['CR LF', { lineEnd: '\r\n' }],
    ['CR alone', { lineEnd: '\r' }],
    ['a comment beyond ASCII', { comment: 'Gießform, 石膏, <b>end_header</b>' }],
    ['a comment that looks like a header', { comment: 'element vertex 7' }],
    ['a list named vertex_index', { listName: 'vertex_index' }],
  ])('reads headers with %s', async (_name, change) => {
    const plain = plyOf({ format, type: 'float', ...TETRAHEDRON_PLY });
    const changed = plyOf({ format, type: 'float', ...TETRAHEDRON_PLY, ...change });
    expect(await openMesh(changed, 'a.ply')).toEqual(await openMesh(plain, 'a.ply'));
  });

  it('splits polygons, drops what has no corners, and says so', async () => {
    // An L in the plane z = 0 whose fan from the first corner would turn over, a square, an edge, a point.
    const positions = [0, 2, 0, 0, 0, 0, 2, 0, 0, 2, 1, 0, 1, 1, 0, 1, 2, 0].map((value) => value + 10);
    const faces = [[3, 4, 5, 0, 1, 2], [1, 2, 3, 4], [0, 1], [2], [0, 1, 2]];
    const { mesh, notes } = await openMesh(plyOf({ format, type: 'float', positions, faces }), 'a.ply');
    expect(mesh.indices.length / 3).toBe(4 + 2 + 1);
    const areas = Array.from({ length: 7 }, (_, t) => {
      const [a, b, c] = mesh.indices.slice(3 * t, 3 * t + 3).map((vert) => 3 * vert);
      const p = mesh.positions;
      return ((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])) / 2;
    });
    expect(areas.every((area) => area >= 0)).toBe(true);
    expect(areas.slice(0, 4).reduce((sum, area) => sum + area)).toBe(3);
    expect(notes).toMatchObject([
      { code: 'polygons-split', count: 2 },
      { code: 'short-faces-dropped', count: 2 },
    ]);
  });

  it('refuses a point cloud as such', async () => {
    const bytes = plyOf({ format, type: 'float', positions: TETRAHEDRON_PLY.positions, faces: [] });
    await expect(openMesh(bytes, 'a.ply')).rejects.toMatchObject({
      code: 'no-faces',
      message: expect.stringMatching(/4 points.*point cloud/),
      place: { line: 7 },
    });
  });

  it('refuses no vertices', async () => {
    const bytes = plyOf({ format, type: 'float', positions: [], faces: [] });
    await expect(openMesh(bytes, 'a.ply')).rejects.toMatchObject({ code: 'no-vertices' });
  });

  it.each([4, -1, 2147483647])('refuses the index %i', async (vert) => {
    const faces = [...TETRAHEDRON_PLY.faces, [0, 1, vert]];
    const bytes = plyOf({ format, type: 'float', positions: TETRAHEDRON_PLY.positions, faces });
    await expect(openMesh(bytes, 'a.ply')).rejects.toMatchObject({
      code: 'index-out-of-range',
      place: { index: 4 },
    });
  });

  it.each([Number.NaN, Infinity, -Infinity])('refuses the coordinate %d', async (value) => {
    const positions: number[] = [...TETRAHEDRON_PLY.positions];
    positions[4] = value;
    const bytes = plyOf({ format, type: 'float', positions, faces: TETRAHEDRON_PLY.faces });
    await expect(openMesh(bytes, 'a.ply')).rejects.toMatchObject({ code: 'not-finite', place: { index: 1 } });
  });

  it.each([
    ['vertices', { vertexCount: 0xffffffff }],
    ['faces', { faceCount: 0xffffffff }],
  ])('refuses an absurd count of %s, without room being taken for it', async (_name, change) => {
    const before = process.memoryUsage().arrayBuffers;
    const bytes = plyOf({ format, type: 'float', ...TETRAHEDRON_PLY, ...change });
    await expect(openMesh(bytes, 'a.ply')).rejects.toMatchObject({
      name: 'MeshError',
      message: expect.stringContaining('4294967295'),
    });
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(1e6);
  });

  it('refuses a cut at every byte', async () => {
    const whole = plyOf({ format, type: 'float', ...TETRAHEDRON_PLY });
    // The last byte of an ASCII file is a line end, which may be missing.
    const end = format === 'ascii' ? whole.length - 1 : whole.length;
    for (let cut = 4; cut < end; cut++) {
      await expect(openMesh(whole.slice(0, cut), 'a.ply'), `cut at ${cut}`).rejects.toMatchObject({
        code: 'truncated',
        place: { byte: cut },
      });
    }
  });
});

describe('PLY, what headers may hold', () => {
  it('passes over elements, properties and lists that it has no use for, in any order, either byte order', async () => {
    for (const isLittleEndian of [true, false]) {
      const header = encode(
        [
          'ply',
          `format binary_${isLittleEndian ? 'little' : 'big'}_endian 1.0`,
          'obj_info made by hand',
          'element camera 2',
          'property float32 view_px',
          'property list uint8 int16 pixels',
          'element face 1',
          'property double quality',
          'property list uint16 uint32 vertex_index',
          'property list uchar float texcoord',
          'property short flags',
          'element empty 4000000000',
          'element vertex 3',
          'property uchar red',
          'property double z',
          'property list uchar char bones',
          'property float x',
          'property short y',
          'element edge 1',
          'property int vertex1',
          'property int vertex2',
          'end_header\r\n',
        ].join('\r\n'),
      );
      const body = packed(
        [
          ...([
            ['float', 1],
            ['uchar', 0],
            ['float', 2],
            ['uchar', 2],
            ['short', 5],
            ['short', 6],
          ] as const),
          ...([
            ['double', 9],
            ['ushort', 3],
            ['uint', 2],
            ['uint', 0],
            ['uint', 1],
            ['uchar', 1],
            ['float', 7],
            ['short', 1],
          ] as const),
          ...([
            ['uchar', 255],
            ['double', 0.1],
            ['uchar', 0],
            ['float', 4],
            ['short', -5],
          ] as const),
          ...([
            ['uchar', 255],
            ['double', 0.2],
            ['uchar', 3],
            ['char', 1],
            ['char', 2],
            ['char', 3],
            ['float', 6],
            ['short', 7],
          ] as const),
          ...([
            ['uchar', 255],
            ['double', 0.3],
            ['uchar', 1],
            ['char', 1],
            ['float', 8],
            ['short', 9],
          ] as const),
          ...([
            ['int', 0],
            ['int', 1],
          ] as const),
        ],
        isLittleEndian,
      );
      const { mesh, notes } = await openMesh(concat(header, body), 'a.ply');
      expect([...mesh.positions]).toEqual([4, -5, 0.1, 6, 7, 0.2, 8, 9, 0.3]);
      expect([...mesh.indices]).toEqual([2, 0, 1]);
      expect(notes).toEqual([]);
    }
  });

  it('does the same in ASCII', async () => {
    const text = `ply
format ascii 1.0
element face 1
property list uchar int other
property list uchar int vertex_indices
element vertex 3
property float confidence
property float y
property float x
property float z

end_header
0 3 0 1 2

nan 1 2 3
0.5 4 5\t6
0.5 7 8 9
`;
    const { mesh } = await openMesh(encode(text), 'a.ply');
    expect([...mesh.positions]).toEqual([2, 1, 3, 5, 4, 6, 8, 7, 9]);
    expect([...mesh.indices]).toEqual([0, 1, 2]);
  });

  it('notes bytes after a binary body, refuses lines after an ASCII one', async () => {
    const binary = plyOf({ format: 'binary_big_endian', type: 'float', ...TETRAHEDRON_PLY });
    expect((await openMesh(concat(binary, new Uint8Array(5)), 'a.ply')).notes).toMatchObject([
      { code: 'trailing-bytes', count: 5 },
    ]);
    const ascii = plyOf({ format: 'ascii', type: 'float', ...TETRAHEDRON_PLY });
    expect((await openMesh(concat(ascii, encode('\n \n')), 'a.ply')).notes).toEqual([]);
    await expect(openMesh(concat(ascii, encode('3 0 1 2\n')), 'a.ply')).rejects.toMatchObject({
      code: 'count-mismatch',
      place: { line: 18 },
    });
  });

  const header = (lines: string) => `ply\nformat ascii 1.0\n${lines}\nend_header\n`;
  const vertex = 'element vertex 3\nproperty float x\nproperty float y\nproperty float z';
  const face = 'element face 1\nproperty list uchar int vertex_indices';
  const body = '0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n';
  it.each([
    ['no end_header', `ply\nformat ascii 1.0\n${vertex}\n`, 'truncated', /line 7.*end_header/],
    ['no format', `ply\n${vertex}\n${face}\nend_header\n${body}`, 'bad-header', /format/],
    [
      'an unknown format',
      `ply\nformat ascii 2.0\n${vertex}\nend_header\n`,
      'bad-header',
      /line 2.*"ascii 2.0"/,
    ],
    ['an unknown word', header(`vertices 3\n${face}`), 'bad-header', /line 3.*"vertices"/],
    ['a negative count', header(vertex.replace('3', '-3')), 'bad-header', /line 3.*"-3"/],
    ['a count in words', header(vertex.replace('3', 'three')), 'bad-header', /line 3/],
    ['a count beyond uint32', header(vertex.replace('3', '4294967296')), 'bad-header', /line 3/],
    ['an unknown type', header(vertex.replace('float z', 'half z')), 'bad-header', /line 6.*"half"/],
    [
      'a type named as a property of objects',
      header(vertex.replace('float z', 'constructor z')),
      'bad-header',
      /line 6/,
    ],
    [
      'a list counted by floats',
      header(`${vertex}\n${face.replace('uchar', 'float')}`),
      'bad-header',
      /line 8/,
    ],
    ['a property before elements', header(`property float x\n${vertex}`), 'bad-header', /line 3/],
    ['the same property twice', header(`${vertex}\nproperty float x`), 'bad-header', /line 7/],
    ['the same element twice', header(`${vertex}\n${vertex}`), 'bad-header', /line 7/],
    ['no z', header(`${vertex.replace('z', 'w')}\n${face}`) + body, 'bad-header', /"z"/],
    [
      'no list of corners',
      header(`${vertex}\n${face.replace('vertex_indices', 'corners')}`) + body,
      'bad-header',
      /"corners"/,
    ],
    [
      'corners that are floats',
      header(`${vertex}\n${face.replace('int', 'float')}`) + body,
      'bad-header',
      /whole numbers/,
    ],
    ['no vertices', header(face) + body, 'no-vertices', /"vertex"/],
    [
      'triangle strips',
      header(`${vertex}\nelement tristrips 1\nproperty list int int vertex_indices`),
      'unknown-format',
      /line 7/,
    ],
    [
      'a short row',
      header(`${vertex}\n${face}`) + body.replace('1 0 0', '1 0'),
      'count-mismatch',
      /Line 11: vertex 1.*fewer/,
    ],
    [
      'a long row',
      header(`${vertex}\n${face}`) + body.replace('1 0 0', '1 0 0 0'),
      'count-mismatch',
      /Line 11: vertex 1.*more/,
    ],
    [
      'a face of too few corners',
      header(`${vertex}\n${face}`) + body.replace('3 0 1 2', '4 0 1 2'),
      'truncated',
      /0 are there/,
    ],
    [
      'a face of huge size',
      header(`${vertex}\n${face}`) + body.replace('3 0 1 2', '4e9 0 1 2'),
      'truncated',
      /0 are there/,
    ],
    [
      'half a corner',
      header(`${vertex}\n${face}`) + body.replace('3 0 1 2', '3 0 1.5 2'),
      'bad-value',
      /Line 13.*"1.5"/,
    ],
    [
      'half a list',
      header(`${vertex}\n${face}`) + body.replace('3 0 1 2', '2.5 0 1 2'),
      'bad-value',
      /Line 13.*"2.5"/,
    ],
    [
      'a word for a number',
      header(`${vertex}\n${face}`) + body.replace('1 0 0', '1 zero 0'),
      'bad-value',
      /Line 11.*"zero"/,
    ],
  ])('refuses %s', async (_name, text, code, message) => {
    await expect(openMesh(encode(text), 'a.ply')).rejects.toMatchObject({
      name: 'MeshError',
      code,
      message: expect.stringMatching(message),
    });
  });
});

describe('demosthenes.ply', () => {
  it('is read as three reads it, at the precision of its decimals', async () => {
    const bytes = readFileSync(new URL('../fixtures/demosthenes.ply', import.meta.url));
    const { mesh, format, notes } = await openMesh(bytes, 'demosthenes.ply');
    expect(format).toBe('PLY ASCII');
    expect(notes).toEqual([]);
    // Counts: the file's header; read by an independent reader besides.
    expect(mesh.positions.length / 3).toBe(8394);
    expect(mesh.indices.length / 3).toBe(16719);
    const geometry = new PLYLoader().parse(new Uint8Array(bytes).buffer);
    expect([...mesh.positions].map(Math.fround)).toEqual([...geometry.getAttribute('position').array]);
    expect([...mesh.indices]).toEqual([...geometry.getIndex()!.array]);
  });
});
