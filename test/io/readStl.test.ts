import { readFileSync } from 'node:fs';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { describe, expect, it } from 'vitest';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { asciiStlOf, concat, encode, soupOf, stlOf, TETRAHEDRON } from './sampleFiles.ts';

const fixture = (name: string): Uint8Array => readFileSync(new URL(`../fixtures/${name}`, import.meta.url));

/** What three's reader makes of the same bytes: a soup of float32, nine numbers a triangle. An independent reader. */
function soupByThree(bytes: Uint8Array): number[] {
  const geometry = new STLLoader().parse(new Uint8Array(bytes).buffer);
  return [...geometry.getAttribute('position').array];
}

describe('STL binary', () => {
  // Counts: measured by others and given with the scans (test/fixtures/CREDITS.md).
  it.each([
    ['goblet.stl', 10910],
    ['holes-binary-solid.stl', 420],
  ])('reads %s corner for corner as three does, and indexes it', async (name, triCount) => {
    const bytes = fixture(name);
    const { mesh, format, notes } = await openMesh(bytes, name);
    expect(format).toBe('STL binary');
    expect(notes).toEqual([]);
    expect(mesh.indices.length / 3).toBe(triCount);
    expect(soupOf(mesh).flat()).toEqual(soupByThree(bytes).map((value) => value + 0));
    const points = new Set<string>();
    for (let i = 0; i < mesh.positions.length; i += 3) points.add(mesh.positions.slice(i, i + 3).join());
    expect(points.size).toBe(mesh.positions.length / 3);
  });

  it('gives a closed sphere Euler number 2: every shared corner is found', async () => {
    const sphere = octasphere(20, 24);
    const { mesh } = await openMesh(writeStl(sphere), 'sphere.stl');
    expect(mesh.indices.length).toBe(sphere.indices.length);
    // Euler: V - E + F = 2 with E = 3F/2.
    expect(mesh.positions.length / 3 - mesh.indices.length / 6).toBe(2);
  });

  it('takes -0 and 0 for the same place', async () => {
    const { mesh } = await openMesh(
      stlOf([
        [0, 0, 0, 1, 0, 0, 0, 1, 0],
        [-0, 0, -0, 0, 1, -0, -1, 0, 0],
      ]),
      'a.stl',
    );
    expect([...mesh.indices]).toEqual([0, 1, 2, 0, 2, 3]);
    expect(mesh.positions.some((value) => Object.is(value, -0))).toBe(false);
  });

  it('trusts the count and not the word "solid", also with bytes after the last triangle', async () => {
    const bytes = concat(stlOf(TETRAHEDRON, 'solid facet normal'), encode('made on a Monday'));
    const { mesh, format, notes } = await openMesh(bytes, 'a.stl');
    expect(format).toBe('STL binary');
    expect(mesh.indices.length).toBe(12);
    expect(mesh.positions.length).toBe(12);
    expect(notes).toEqual([{ code: 'trailing-bytes', text: expect.stringContaining('16 bytes'), count: 16 }]);
  });

  it('reads it whatever its name, and out of the middle of a larger buffer', async () => {
    const bytes = concat(encode('ply\n'), stlOf(TETRAHEDRON));
    const { format } = await openMesh(bytes.subarray(4), 'photo.png');
    expect(format).toBe('STL binary');
  });

  it('says where a file was cut, and how much is there', async () => {
    const whole = fixture('goblet.stl');
    await expect(openMesh(whole.slice(0, 84 + 50 * 1000 + 20), 'goblet.stl')).rejects.toMatchObject({
      name: 'MeshError',
      code: 'truncated',
      place: { byte: 50104, index: 1000 },
      message: expect.stringMatching(/byte 50104.*10910.*1000/),
    });
    await expect(openMesh(whole.slice(0, 83), 'goblet.stl')).rejects.toMatchObject({
      code: 'truncated',
      place: { byte: 83 },
    });
    await expect(openMesh(new Uint8Array(60), 'goblet.stl')).rejects.toMatchObject({
      code: 'truncated',
      place: { byte: 60 },
    });
  });

  it('refuses an absurd count at once, without room being taken for it', async () => {
    const before = process.memoryUsage().arrayBuffers;
    await expect(openMesh(stlOf(TETRAHEDRON, '', 0xffffffff), 'a.stl')).rejects.toMatchObject({
      code: 'truncated',
      message: expect.stringContaining('4294967295'),
    });
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(1e6);
  });

  it('refuses counts of 0', async () => {
    await expect(openMesh(stlOf([]), 'a.stl')).rejects.toMatchObject({ code: 'no-faces' });
    await expect(openMesh(stlOf(TETRAHEDRON, '', 0), 'a.stl')).rejects.toMatchObject({
      code: 'count-mismatch',
    });
  });

  it.each([
    ['NaN', Number.NaN],
    ['infinity', Infinity],
    ['minus infinity', -Infinity],
  ])('refuses %s with triangle and byte', async (_name, value) => {
    const bytes = stlOf([...TETRAHEDRON, [0, 0, 0, 1, value, 0, 0, 1, 0]]);
    await expect(openMesh(bytes, 'a.stl')).rejects.toMatchObject({
      code: 'not-finite',
      place: { index: 4, byte: 84 + 50 * 4 + 12 + 4 * 4 },
    });
  });
});

describe('STL ASCII', () => {
  it('reads what three reads, at the full precision of its decimals', async () => {
    const text = asciiStlOf([...TETRAHEDRON, [0.1, 1.23456789012e-3, -7, 1e5, 2.5, 3, 4, 5, 6]]);
    const { mesh, format } = await openMesh(encode(text), 'a.stl');
    expect(format).toBe('STL ASCII');
    expect(soupOf(mesh).flat().map(Math.fround)).toEqual(soupByThree(encode(text)));
    expect([...mesh.positions]).toContain(1.23456789012e-3);
    expect(mesh.positions.length / 3).toBe(4 + 3);
  });

  it.each([
    ['CR LF', (text: string) => text.replaceAll('\n', '\r\n')],
    ['CR alone', (text: string) => text.replaceAll('\n', '\r')],
    ['upper case', (text: string) => text.toUpperCase()],
    ['tabs', (text: string) => text.replaceAll(' ', '\t')],
    ['blank lines and a byte order mark', (text: string) => `\ufeff\n\n${text.replaceAll('\n', '\n\n')}`],
    ['no name', (text: string) => text.replaceAll(' thing', '')],
    ["a name of the format's own words", (text: string) => text.replaceAll('thing', 'facet normal endsolid')],
    ['a name beyond ASCII', (text: string) => text.replaceAll('thing', 'Gießform 型')],
    ['no final line end', (text: string) => text.trimEnd()],
    ['normals of nan', (text: string) => text.replaceAll('normal 0 0 0', 'normal nan -nan(ind) nan')],
  ])('reads files with %s', async (_name, change) => {
    const plain = await openMesh(encode(asciiStlOf(TETRAHEDRON)), 'a.stl');
    const changed = await openMesh(encode(change(asciiStlOf(TETRAHEDRON))), 'a.stl');
    expect(changed).toEqual(plain);
  });

  it('takes several solids together and says so', async () => {
    const text = asciiStlOf(TETRAHEDRON.slice(0, 2), 'one') + asciiStlOf(TETRAHEDRON.slice(2), 'two');
    const { mesh, notes } = await openMesh(encode(text), 'a.stl');
    expect(mesh.positions.length / 3).toBe(4);
    expect(mesh.indices.length / 3).toBe(4);
    expect(notes).toMatchObject([{ code: 'several-solids', count: 2 }]);
  });

  it.each([
    [
      'a file cut inside a facet',
      (text: string) => text.slice(0, 400),
      'truncated',
      /byte 400 \(line 25\).*3 whole/,
    ],
    [
      'a file cut between facets',
      (text: string) => text.slice(0, text.indexOf('endsolid')),
      'truncated',
      /4 whole/,
    ],
    [
      'a decimal comma',
      (text: string) => text.replace('vertex 1 0 0', 'vertex 1,5 0 0'),
      'bad-value',
      /Line 6.*"1,5"/,
    ],
    ['nan', (text: string) => text.replace('vertex 1 0 0', 'vertex 1 nan 0'), 'not-finite', /Line 6/],
    [
      'a number beyond doubles',
      (text: string) => text.replace('vertex 1 0 0', 'vertex 1 1e999 0'),
      'not-finite',
      /Line 6/,
    ],
    [
      'two corners',
      (text: string) => text.replace('      vertex 1 0 0\n', ''),
      'count-mismatch',
      /Line 6: corner 3 of 3/,
    ],
    [
      'four corners',
      (text: string) => text.replace('      vertex 1 0 0\n', '      vertex 1 0 0\n'.repeat(2)),
      'count-mismatch',
      /Line 7/,
    ],
    [
      'a word that does not belong',
      (text: string) => text.replace('outer', 'inner'),
      'bad-value',
      /Line 3.*"inner"/,
    ],
    ['no facets', () => 'solid nothing\nendsolid nothing\n', 'no-faces', /no triangles/],
    ['prose that begins with solid', () => 'solid advice\nfor everyone\n', 'bad-value', /Line 2/],
  ])('refuses %s', async (_name, change, code, message) => {
    await expect(openMesh(encode(change(asciiStlOf(TETRAHEDRON))), 'a.stl')).rejects.toMatchObject({
      name: 'MeshError',
      code,
      message: expect.stringMatching(message),
    });
  });
});
