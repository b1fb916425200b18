import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { concat, encode } from './sampleFiles.ts';
import { boundsOf, boxMesh, glbOf, gltfParts, uint32s, volumeOf } from './sampleModels.ts';

/** Khronos, glTF 2.0 specification: 3.5 scenes and nodes, 3.6 accessors, 3.7 meshes, 4.4 GLB. All files written here by hand. */
// biome-ignore lint/suspicious/noExplicitAny: these tests write what no type allows.
type Loose = any;

const BOX = boxMesh(2, 3, 4);
const open = (bytes: Uint8Array, name = 'a.glb') => openMesh(bytes, name);

const glb = (mesh: TriMesh, primitive?: object, nodes?: readonly object[]) => {
  const { json, binary } = gltfParts(mesh, primitive, nodes);
  return glbOf(json, binary);
};

/** The box's JSON with a change, in a GLB. */
const changed = (change: (json: Loose) => void): Uint8Array => {
  const { json, binary } = gltfParts(BOX);
  const copy = structuredClone(json);
  change(copy);
  return glbOf(copy, binary);
};

describe('readGltf', () => {
  it('reads a box of 2 x 3 x 4 metres', async () => {
    const { mesh, format, unit, notes } = await open(glb(BOX));
    expect(format).toBe('GLB');
    expect(unit).toBe('m');
    expect(notes).toEqual([]);
    expect(mesh).toEqual(BOX);
    expect(volumeOf(mesh)).toBe(24);
  });

  it('reads the text form with its numbers in base64, and whatever the name', async () => {
    const { json, binary } = gltfParts(BOX);
    json.buffers[0].uri = `data:application/octet-stream;base64,${Buffer.from(binary).toString('base64')}`;
    const { mesh, format } = await open(encode(JSON.stringify(json)), 'a.stl');
    expect(format).toBe('glTF');
    expect(mesh).toEqual(BOX);
  });

  it('places meshes by nested nodes: scale, then turn, then shift; the matrix column by column', async () => {
    const half = Math.SQRT1_2;
    const { json, binary } = gltfParts(BOX, {}, [
      { children: [1], translation: [10, 0, 0] },
      // A quarter turn about z carries x to y and y to -x: the box of 2 x 3 x 4, doubled, fills x -6..0, y 0..4, z 0..8.
      { children: [2], rotation: [0, 0, half, half] },
      // Column by column: scaled by 2, shifted by 1 along z.
      { mesh: 0, matrix: [2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 2, 0, 0, 0, 1, 1] },
    ]);
    const { mesh } = await open(glbOf(json, binary));
    const bounds = boundsOf(mesh);
    [4, 0, 1, 10, 4, 9].forEach((x, i) => {
      expect(bounds[i]).toBeCloseTo(x, 12);
    });
    expect(volumeOf(mesh)).toBeCloseTo(8 * 24, 10);
  });

  it('turns the triangles of a mirrored node back, so that the outside stays outside', async () => {
    const { mesh } = await open(glb(BOX, {}, [{ mesh: 0, scale: [-1, 1, 1] }]));
    expect(boundsOf(mesh)).toEqual([-2, 0, 0, 0, 3, 4]);
    expect(volumeOf(mesh)).toBe(24);
  });

  it('puts the same mesh in several places, and leaves out what the scene does not show', async () => {
    const { json, binary } = gltfParts(BOX, {}, [
      { mesh: 0 },
      { mesh: 0, translation: [10, 0, 0] },
      { mesh: 1, translation: [99, 0, 0] },
    ]);
    const two = {
      ...json,
      meshes: [json.meshes[0], json.meshes[0]],
      scenes: [{ nodes: [2] }, { nodes: [0, 1] }],
      scene: 1,
    };
    const { mesh, notes } = await open(glbOf(two, binary));
    expect(volumeOf(mesh)).toBe(48);
    expect(boundsOf(mesh)).toEqual([0, 0, 0, 12, 3, 4]);
    expect(notes).toContainEqual(expect.objectContaining({ code: 'not-shown', count: 1 }));
  });

  it('takes all root nodes when there is no scene', async () => {
    const { json, binary } = gltfParts(BOX, {}, [
      { children: [1] },
      { mesh: 0 },
      { mesh: 0, translation: [5, 0, 0] },
    ]);
    const { scene: _scene, scenes: _scenes, ...rest } = json;
    expect(volumeOf((await open(glbOf(rest, binary))).mesh)).toBe(48);
  });

  it('reads corners without indices, and indices of one and of two bytes', async () => {
    const soup: TriMesh = {
      positions: Float64Array.from(
        Array.from(BOX.indices).flatMap((v) => [...BOX.positions.subarray(3 * v, 3 * v + 3)]),
      ),
      indices: new Uint32Array(0),
    };
    const { json, binary } = gltfParts(soup);
    json.meshes[0].primitives = [{ attributes: { POSITION: 0 } } as never];
    expect(volumeOf((await open(glbOf(json, binary))).mesh)).toBe(24);
    for (const [componentType, bytes] of [
      [5121, Uint8Array.from(BOX.indices)],
      [5123, new Uint8Array(Uint16Array.from(BOX.indices).buffer)],
    ] as const) {
      const box = gltfParts(BOX);
      const positions = box.binary.subarray(0, 96);
      box.json.accessors[1].componentType = componentType;
      box.json.bufferViews[1].byteLength = bytes.length;
      expect((await open(glbOf(box.json, concat(positions, bytes)))).mesh).toEqual(BOX);
    }
  });

  it('unrolls strips and fans as 3.7.2.1 winds them', async () => {
    // A square of four corners as a strip (v0 v1 v2 v3 in zigzag) and as a fan about its first corner, facing +z.
    const square = Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0]);
    const strip = await open(glb({ positions: square, indices: Uint32Array.of(0, 1, 2, 3) }, { mode: 5 }));
    expect([...strip.mesh.indices]).toEqual([0, 1, 2, 1, 3, 2]);
    const fan = await open(glb({ positions: square, indices: Uint32Array.of(0, 1, 3, 2) }, { mode: 6 }));
    expect([...fan.mesh.indices]).toEqual([1, 3, 0, 3, 2, 0]);
  });

  it('reads interleaved, sparse and normalised numbers', async () => {
    const { json, binary } = gltfParts(BOX);
    // Interleaved: each position followed by 4 bytes of something else.
    const wide = new Uint8Array(8 * 16);
    for (let v = 0; v < 8; v++) wide.set(binary.subarray(12 * v, 12 * v + 12), 16 * v);
    const interleaved = structuredClone(json) as Loose;
    interleaved.bufferViews = [
      { buffer: 0, byteLength: 128, byteStride: 16 },
      { buffer: 0, byteOffset: 128, byteLength: 144 },
    ];
    expect((await open(glbOf(interleaved, concat(wide, binary.subarray(96))))).mesh).toEqual(BOX);

    // Sparse: the corners above stand in for zeros of an accessor without a buffer view... for all eight.
    const sparse = structuredClone(json) as Loose;
    delete sparse.accessors[0].bufferView;
    sparse.accessors[0].sparse = {
      count: 8,
      indices: { bufferView: 2, componentType: 5121 },
      values: { bufferView: 0 },
    };
    sparse.bufferViews.push({ buffer: 0, byteOffset: binary.length, byteLength: 8 });
    const places = Uint8Array.of(0, 1, 2, 3, 4, 5, 6, 7);
    expect((await open(glbOf(sparse, concat(binary, places)))).mesh).toEqual(BOX);

    // Normalised bytes (KHR_mesh_quantization): 255 stands for 1.
    const bytes = new Uint8Array(8 * 4);
    boxMesh(1, 1, 1).positions.forEach((x, i) => {
      bytes[4 * Math.floor(i / 3) + (i % 3)] = 255 * x;
    });
    const quantised = structuredClone(json) as Loose;
    quantised.extensionsRequired = ['KHR_mesh_quantization'];
    quantised.accessors[0] = { ...quantised.accessors[0], componentType: 5121, normalized: true };
    quantised.bufferViews = [
      { buffer: 0, byteLength: 32, byteStride: 4 },
      { buffer: 0, byteOffset: 32, byteLength: 144 },
    ];
    expect(volumeOf((await open(glbOf(quantised, concat(bytes, binary.subarray(96))))).mesh)).toBe(1);
  });

  it('says what it passes over: looks, points, shape keys', async () => {
    const { json, binary } = gltfParts(BOX);
    const rich = structuredClone(json) as Loose;
    rich.materials = [{}];
    rich.textures = [{}];
    rich.meshes[0].primitives[0].attributes.NORMAL = 0;
    rich.meshes[0].primitives[0].targets = [{}];
    rich.meshes[0].primitives.push({ mode: 0, attributes: { POSITION: 0 } });
    const { notes } = await open(glbOf(rich, binary));
    expect(notes.map(({ code }) => code)).toEqual(['lines-dropped', 'pose-passed-over', 'looks-passed-over']);
    expect(notes[2].text).toContain('Materials, textures and normals');
  });

  it.each([
    ['another version', changed((j) => (j.asset.version = '1.0')), 'unknown-format', /version "1.0"/],
    [
      'a shape in another file',
      changed((j) => (j.buffers[0].uri = 'https://example.org/a.bin')),
      'unknown-format',
      /another file/,
    ],
    [
      'draco',
      changed((j) => (j.extensionsRequired = ['KHR_draco_mesh_compression'])),
      'unknown-format',
      /packed/,
    ],
    [
      'packed views',
      changed((j) => (j.bufferViews[0].extensions = { EXT_meshopt_compression: {} })),
      'unknown-format',
      /packed/,
    ],
    [
      'an unknown demand',
      changed((j) => (j.extensionsRequired = ['EXT_mesh_gpu_instancing'])),
      'unknown-format',
      /INSTANCING/i,
    ],
    [
      'too large an index',
      changed((j) => (j.accessors[0].count = 7)),
      'index-out-of-range',
      /names vertex 7/,
    ],
    [
      'a view past the end',
      changed((j) => (j.bufferViews[1].byteLength = 145)),
      'truncated',
      /needs 144 bytes/,
    ],
    ['more values than the view has', changed((j) => (j.accessors[1].count = 39)), 'truncated', /needs 156/],
    ['a huge count', changed((j) => (j.accessors[0].count = 4e9)), 'truncated', /4000000000/],
    ['half a triangle', changed((j) => (j.accessors[1].count = 35)), 'count-mismatch', /35 corners/],
    [
      'a node below itself',
      changed((j) => (j.nodes = [{ mesh: 0, children: [0] }])),
      'bad-value',
      /nodes\[0\]/,
    ],
    [
      'a node with two parents',
      changed((j) => (j.nodes = [{ children: [1, 1] }, { mesh: 0 }])),
      'bad-value',
      /nodes\[1\]/,
    ],
    [
      'a mesh that is not there',
      changed((j) => (j.nodes = [{ mesh: 3 }])),
      'index-out-of-range',
      /nodes\[0\]\.mesh/,
    ],
    ['a matrix of 15', changed((j) => (j.nodes[0].matrix = Array(15).fill(1))), 'bad-value', /16 numbers/],
    ['no mesh in the scene', changed((j) => (j.nodes = [{}])), 'no-faces', /shows no mesh/],
    ['points alone', changed((j) => (j.meshes[0].primitives[0].mode = 0)), 'no-faces', /point cloud/],
    ['indices of floats', changed((j) => (j.accessors[1].componentType = 5126)), 'bad-value', /5125/],
    [
      'a matrix that leads nowhere',
      changed((j) => (j.nodes[0].scale = [1e308, 1e308, 1e308])),
      'not-finite',
      /no finite place/,
    ],
  ])('refuses %s', async (_name, bytes, code, message) => {
    await expect(open(bytes)).rejects.toMatchObject({
      name: 'MeshError',
      code,
      message: expect.stringMatching(message),
    });
  });

  it('refuses a coordinate that is no number, and says which', async () => {
    const { json, binary } = gltfParts(BOX);
    new DataView(binary.buffer).setFloat32(12 * 5 + 4, Number.NaN, true);
    await expect(open(glbOf(json, binary))).rejects.toMatchObject({
      code: 'not-finite',
      place: { index: 5 },
    });
  });

  it('passes over parts of other kinds and refuses a first one that is no JSON', async () => {
    const whole = glb(BOX);
    const more = concat(whole, uint32s(4, 0x12345678, 7));
    new DataView(more.buffer).setUint32(8, more.length, true);
    expect((await open(more)).mesh).toEqual(BOX);
    const wrong = whole.slice();
    wrong[16] = 0x6a;
    await expect(open(wrong)).rejects.toMatchObject({ code: 'bad-header' });
  });
});
