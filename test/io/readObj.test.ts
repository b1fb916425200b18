import { describe, expect, it } from 'vitest';
import { openMesh } from '../../src/io/openMesh.ts';
import { encode } from './sampleFiles.ts';
import { BOX_FACES, boxCorners, volumeOf } from './sampleModels.ts';

/** Wavefront OBJ: Advanced Visualizer manual, appendix B1 ("Object files"), from memory. */
const open = (text: string, name = 'a.obj') => openMesh(encode(text), name);

const vertexLines = (corners: readonly (readonly number[])[], more = ''): string =>
  corners.map((p) => `v ${p.join(' ')}${more}`).join('\n');
const BOX = `${vertexLines(boxCorners(2, 3, 4))}\n${BOX_FACES.map((f) => `f ${f.map((v) => v + 1).join(' ')}`).join('\n')}\n`;

describe('readObj', () => {
  it('reads a box of 2 x 3 x 4 from faces of four corners, wound outward', async () => {
    const { mesh, format, notes, unit } = await open(BOX);
    expect(format).toBe('OBJ');
    expect(unit).toBeUndefined();
    expect(mesh.positions.length).toBe(24);
    expect(mesh.indices.length).toBe(36);
    expect(volumeOf(mesh)).toBe(24);
    expect(notes).toEqual([expect.objectContaining({ code: 'polygons-split', count: 6 })]);
  });

  it.each([
    ['CR LF', BOX.replaceAll('\n', '\r\n')],
    ['CR', BOX.replaceAll('\n', '\r')],
    ['no last line end', BOX.trimEnd()],
    ['a byte order mark and a comment', `\ufeff# solid ply\n\n${BOX}`],
    ['a comment behind each line', BOX.replaceAll('\n', ' # why\n')],
    ['tabs and blanks', BOX.replaceAll(' ', ' \t ')],
    ['a weight', `${vertexLines(boxCorners(2, 3, 4), ' 0.5')}${BOX.slice(BOX.indexOf('\nf'))}`],
    ['a colour', `${vertexLines(boxCorners(2, 3, 4), ' 0.1 0.2 0.3')}${BOX.slice(BOX.indexOf('\nf'))}`],
    ['faces before their vertices', `${BOX.slice(BOX.indexOf('\nf'))}${vertexLines(boxCorners(2, 3, 4))}`],
    [
      'lines joined by a backslash',
      BOX.replace('v 2 0 0', 'v 2\\\n0 \\\n 0').replace('f 1 4 3 2', 'f 1 4 \\\r\n3 2'),
    ],
    ['groups and smoothing', `g a b\ns 1\nmg 0\n${BOX.replaceAll('f 5', 'g c\nusemap off\nf 5')}`],
  ])('reads the same with %s', async (_name, text) => {
    const { mesh } = await open(text);
    const plain = await open(BOX);
    expect(mesh).toEqual(plain.mesh);
  });

  it('counts backwards from where it stands: two boxes by the same negative numbers', async () => {
    const faces = BOX_FACES.map((f) => `f ${f.map((v) => v - 8).join(' ')}`).join('\n');
    const far = boxCorners(1, 1, 1).map(([x, y, z]) => [x + 10, y, z]);
    const { mesh, notes } = await open(
      `o one\n${vertexLines(boxCorners(2, 3, 4))}\n${faces}\no two\n${vertexLines(far)}\n${faces}\n`,
    );
    expect(volumeOf(mesh)).toBe(24 + 1);
    expect(notes).toContainEqual(expect.objectContaining({ code: 'several-solids', count: 2 }));
  });

  it('takes the vertex of "1/2/3", "1//3" and "1/2", and says what it passes over', async () => {
    const text = BOX.replace(
      'f 1 4 3 2',
      'mtllib a.mtl\nusemtl clay\nvt 0 0\nvn 0 0 1\nf 1/1/1 4//1 3/1 2/1/',
    );
    const { mesh, notes } = await open(text);
    expect(volumeOf(mesh)).toBe(24);
    expect(notes).toContainEqual({
      code: 'looks-passed-over',
      text: 'Materials, texture places and normals were passed over: the shape alone counts.',
    });
  });

  it('splits a hollow polygon so that its area is right: an L of 3 unit squares', async () => {
    const { mesh } = await open(
      'v 0 1 0\nv 0 0 0\nv 2 0 0\nv 2 1 0\nv 1 1 0\nv 1 2 0\nv 0 2 0\nf 1 2 3 4 5 6 7\n',
    );
    let area = 0;
    const p = mesh.positions;
    for (let i = 0; i < mesh.indices.length; i += 3) {
      const [a, b, c] = [3 * mesh.indices[i], 3 * mesh.indices[i + 1], 3 * mesh.indices[i + 2]];
      const twice = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]);
      expect(twice).toBeGreaterThanOrEqual(0);
      area += twice / 2;
    }
    expect(area).toBe(3);
  });

  it('passes over lines, points, curves and unknown words, each with a note', async () => {
    const text = `${BOX}l 1 2 3\np 1\ncstype bezier\ndeg 3\ncurv 0 1 1 2 3 4\nend\ns off\n`;
    const { mesh, notes } = await open(text);
    expect(volumeOf(mesh)).toBe(24);
    expect(notes.map(({ code, count }) => [code, count])).toEqual([
      ['polygons-split', 6],
      ['lines-dropped', 1],
      ['points-dropped', 1],
      ['curves-dropped', 4],
    ]);
    const odd = await open(`${BOX}weather fine\n`);
    expect(odd.notes).toContainEqual(expect.objectContaining({ code: 'unknown-lines', count: 1 }));
    expect(odd.notes.at(-1)?.text).toContain('"weather" in line 15');
  });

  it('is known by content, whatever the name; a text of another kind is not', async () => {
    expect((await open(BOX, 'figure.stl')).format).toBe('OBJ');
    await expect(open('Dear mould-maker,\nv 0 0 0\n', 'letter.txt')).rejects.toMatchObject({
      code: 'unknown-format',
    });
  });

  it.each([
    ['a face that names no vertex', BOX.replace('f 5 6 7 8', 'f 5 6 7 9'), 'index-out-of-range', 10],
    ['vertex 0', BOX.replace('f 5 6 7 8', 'f 5 6 7 0'), 'index-out-of-range', 10],
    ['too far back', BOX.replace('f 5 6 7 8', 'f 5 6 7 -9'), 'index-out-of-range', 10],
    ['a word in a face', BOX.replace('f 5 6 7 8', 'f 5 6 seven 8'), 'bad-value', 10],
    ['a broken number in a face', BOX.replace('f 5 6 7 8', 'f 5 6 7.5 8'), 'bad-value', 10],
    ['nan', BOX.replace('v 2 3 4', 'v 2 nan 4'), 'not-finite', 7],
    ['too large a number', BOX.replace('v 2 3 4', 'v 2 1e999 4'), 'not-finite', 7],
    ['a decimal comma', BOX.replace('v 2 3 4', 'v 2 3,5 4'), 'bad-value', 7],
    ['a vertex of two numbers', BOX.replace('v 2 3 4', 'v 2 3'), 'count-mismatch', 7],
    ['no faces', vertexLines(boxCorners(1, 1, 1)), 'no-faces', 8],
    ['no vertices', '# nothing\nf 1 2 3\n', 'index-out-of-range', 2],
    ['edges alone', `${vertexLines(boxCorners(1, 1, 1))}\nf 1 2\nf 2 3\n`, 'no-faces', 11],
  ])('refuses %s, with the line', async (_name, text, code, line) => {
    await expect(open(text)).rejects.toMatchObject({ name: 'MeshError', code, place: { line } });
  });
});
