import { readFileSync } from 'node:fs';
import { parse } from '@loaders.gl/core';
import { GLTFLoader, postProcessGLTF } from '@loaders.gl/gltf';
import { OBJLoader } from '@loaders.gl/obj';
import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { weldExact } from '../../src/core/mesh/weldExact.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { encode } from './sampleFiles.ts';
import { boxMesh, glbOf, gltfParts, objOf, simple3mf, volumeOf } from './sampleModels.ts';

/**
 * Our readers beside those of loaders.gl 4.4.5, which share no line with them: the same where the package is right; and what
 * it gets wrong, which is why it does not read scans here.
 */
const goblet: Promise<TriMesh> = openMesh(
  new Uint8Array(readFileSync(new URL('../fixtures/goblet.stl', import.meta.url))),
  'goblet.stl',
).then(({ mesh }) => mesh);

const QUIET = { core: { worker: false, ignoreRegisteredLoaders: true } };

async function packageObj(text: string): Promise<Float32Array> {
  const read = await parse(encode(text).buffer as ArrayBuffer, OBJLoader, QUIET);
  return read.attributes['POSITION'].value as Float32Array;
}

/** Positions and indices of the first primitive as the package gives them. */
async function packageGlb(bytes: Uint8Array) {
  const read = await parse(bytes.slice().buffer as ArrayBuffer, GLTFLoader, {
    ...QUIET,
    gltf: { loadImages: false, decompressMeshes: false },
  });
  const primitive = postProcessGLTF(read).meshes[0].primitives[0];
  return { positions: primitive.attributes['POSITION'].value, indices: primitive.indices?.value };
}

/** The corners of each triangle, as 32-bit numbers. */
function soupOf({ positions, indices }: TriMesh): Float32Array {
  const out = new Float32Array(3 * indices.length);
  indices.forEach((vert, i) => {
    out.set(positions.subarray(3 * vert, 3 * vert + 3), 3 * i);
  });
  return out;
}

/** Number for number; toEqual takes seconds for arrays of this size. */
function isSame(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

describe('the goblet, written as OBJ, GLB and 3MF', () => {
  it('reads as the mesh that it was', async () => {
    const mesh = await goblet;
    for (const [bytes, name] of [
      [encode(objOf(mesh)), 'goblet.obj'],
      [simple3mf(mesh), 'goblet.3mf'],
      // The STL's numbers are 32-bit floats, so a GLB keeps them too.
      [glbOf(gltfParts(mesh).json, gltfParts(mesh).binary), 'goblet.glb'],
    ] as const) {
      const read = await openMesh(bytes, name);
      expect(isSame(read.mesh.positions, mesh.positions)).toBe(true);
      expect(isSame(read.mesh.indices, mesh.indices)).toBe(true);
    }
    expect(mesh.indices.length / 3).toBeGreaterThan(10_000);
  });

  it('reads as the package reads it', async () => {
    const mesh = await goblet;
    expect(isSame(await packageObj(objOf(mesh)), soupOf(mesh))).toBe(true);
    const { json, binary } = gltfParts(mesh);
    const read = await packageGlb(glbOf(json, binary));
    expect(isSame(read.positions, Float32Array.from(mesh.positions))).toBe(true);
    expect(isSame(read.indices ?? [], mesh.indices)).toBe(true);
  });
});

describe('a GLB of stand-in values', () => {
  it('reads the stand-in values of a sparse accessor as the package does', async () => {
    const { json, binary } = gltfParts(boxMesh(2, 3, 4));
    const places = Uint8Array.of(6, 0, 0, 0);
    const value = new Uint8Array(Float32Array.of(5, 6, 7).buffer);
    const sparse = {
      ...json,
      accessors: [
        {
          ...json.accessors[0],
          sparse: {
            count: 1,
            indices: { bufferView: 2, componentType: 5121 },
            values: { bufferView: 3 },
          },
        },
        json.accessors[1],
      ],
      bufferViews: [
        ...json.bufferViews,
        { buffer: 0, byteOffset: binary.length, byteLength: 4 },
        { buffer: 0, byteOffset: binary.length + 4, byteLength: 12 },
      ],
    };
    const bytes = glbOf(sparse, new Uint8Array([...binary, ...places, ...value]));
    expect([...(await packageGlb(bytes)).positions.slice(18, 21)]).toEqual([5, 6, 7]);
    expect([...(await openMesh(bytes, 'a.glb')).mesh.positions.slice(18, 21)]).toEqual([5, 6, 7]);
  });
});

describe('what the package gets wrong', () => {
  it('OBJ: a hollow polygon as a fan covers more than its area', async () => {
    const text =
      'v 0 1 0\nv 0 0 0\nv 2 0 0\nv 2 1 0\nv 1 1 0\nv 1 2 0\nv 0 2 0\nf 5 6 7 1 2 3 4\nf 3 4 5 6 7 1 2\n';
    // From the corner (2, 0) the fan's triangles overlap: their areas add up to more than the L's 3.
    const areaOf = (soup: ArrayLike<number>, from: number, to: number): number => {
      let sum = 0;
      for (let i = 9 * from; i < 9 * to; i += 9) {
        const [ux, uy] = [soup[i + 3] - soup[i], soup[i + 4] - soup[i + 1]];
        const [vx, vy] = [soup[i + 6] - soup[i], soup[i + 7] - soup[i + 1]];
        sum += Math.abs(ux * vy - uy * vx) / 2;
      }
      return sum;
    };
    expect(areaOf(await packageObj(text), 5, 10)).toBeGreaterThan(3.5);
    const { mesh } = await openMesh(encode(text), 'l.obj');
    expect(areaOf(soupOf(mesh), 0, 5)).toBe(3);
    expect(areaOf(soupOf(mesh), 5, 10)).toBe(3);
  });

  it('OBJ: "nan", a missing number and a vertex that is not there pass without a word', async () => {
    const good = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n';
    for (const bad of [
      good.replace('v 1 0 0', 'v 1 nan 0'),
      good.replace('v 1 0 0', 'v 1 0'),
      good.replace('2 3', '2 9'),
    ]) {
      expect((await packageObj(bad)).some(Number.isNaN)).toBe(true);
      await expect(openMesh(encode(bad), 'a.obj')).rejects.toMatchObject({ name: 'MeshError' });
    }
  });

  it('OBJ: corners of lines come among those of triangles', async () => {
    const text = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nl 1 2\nf 1 2 3\n';
    expect((await packageObj(text)).length).toBe(3 * 5);
    expect((await openMesh(encode(text), 'a.obj')).mesh.indices.length).toBe(3);
  });

  it('GLB: an index past the last vertex passes without a word', async () => {
    const { json, binary } = gltfParts(boxMesh(2, 3, 4));
    const few = { ...json, accessors: [{ ...json.accessors[0], count: 7 }, json.accessors[1]] };
    const read = await packageGlb(glbOf(few, binary));
    expect(Math.max(...(read.indices ?? []))).toBe(7);
    expect(read.positions.length).toBe(21);
    await expect(openMesh(glbOf(few, binary), 'a.glb')).rejects.toMatchObject({ code: 'index-out-of-range' });
  });
});

it('a closed box stays closed and of its volume through every format', async () => {
  const box = boxMesh(20, 30, 40);
  const { json, binary } = gltfParts(box);
  for (const [bytes, name] of [
    [encode(objOf(box)), 'box.obj'],
    [glbOf(json, binary), 'box.glb'],
    [simple3mf(box), 'box.3mf'],
  ] as const) {
    const { mesh } = await openMesh(bytes, name);
    expect(volumeOf(mesh)).toBe(24_000);
    expect(weldExact(mesh).mesh.positions.length).toBe(24);
  }
});
