import { describe, expect, it } from 'vitest';
import { openMesh } from '../../src/io/openMesh.ts';
import { concat, encode } from './sampleFiles.ts';
import {
  boundsOf,
  boxMesh,
  mesh3mf,
  model3mf,
  package3mf,
  simple3mf,
  volumeOf,
  zipOf,
} from './sampleModels.ts';

/** 3MF Consortium, core specification 1.3: chapter 2 (package), 3 (model, matrices), 4 (objects, components). Written by hand. */
const BOX = boxMesh(2, 3, 4);
const open = (bytes: Uint8Array, name = 'a.3mf') => openMesh(bytes, name);
const object = (id: number, inner: string, more = ''): string =>
  `<object id="${id}" ${more}>${inner}</object>`;

describe('read3mf', () => {
  it('reads a box of 2 x 3 x 4 and its unit', async () => {
    const { mesh, format, unit, notes } = await open(simple3mf(BOX));
    expect(format).toBe('3MF');
    expect(unit).toBe('mm');
    expect(notes).toEqual([]);
    expect(mesh).toEqual(BOX);
    expect(volumeOf(mesh)).toBe(24);
  });

  it.each([
    ['unit="centimeter"', 'cm', 24],
    ['unit="inch"', 'in', 24],
    ['unit="foot"', 'ft', 24],
    ['unit="meter"', 'm', 24],
    // Without the attribute the unit is millimetre; a micron is a thousandth of one.
    ['', 'mm', 24],
    ['unit="micron"', 'mm', 24e-9],
  ])('takes %s as %s', async (attributes, unit, volume) => {
    const opened = await open(simple3mf(BOX, attributes));
    expect(opened.unit).toBe(unit);
    expect(volumeOf(opened.mesh)).toBeCloseTo(volume, 12);
  });

  it('places items and components by their matrices, written for row vectors', async () => {
    // A quarter turn about z carries x to y and y to -x (row vectors: rows are the images of the axes), then 10 along x.
    const quarter = '0 1 0 -1 0 0 0 0 1 10 0 0';
    const model = model3mf(
      object(1, mesh3mf(BOX)) +
        object(
          2,
          '<components><component objectid="1"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 4"/></components>',
        ),
      `<item objectid="2" transform="${quarter}"/>`,
    );
    const { mesh, notes } = await open(package3mf(model));
    expect(boundsOf(mesh)).toEqual([7, 0, 0, 10, 2, 8]);
    expect(volumeOf(mesh)).toBe(48);
    expect(notes).toEqual([expect.objectContaining({ code: 'several-solids', count: 2 })]);
  });

  it('turns the triangles of a mirrored object back', async () => {
    const model = model3mf(
      object(1, mesh3mf(BOX)),
      '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>',
    );
    const { mesh } = await open(package3mf(model));
    expect(boundsOf(mesh)).toEqual([-2, 0, 0, 0, 3, 4]);
    expect(volumeOf(mesh)).toBe(24);
  });

  it('leaves out objects that are not built, and supports with a note; takes all when nothing is built', async () => {
    const objects =
      object(1, mesh3mf(BOX)) +
      object(2, mesh3mf(boxMesh(9, 9, 9))) +
      object(3, mesh3mf(BOX), 'type="support"');
    const built = await open(package3mf(model3mf(objects, '<item objectid="1"/><item objectid="3"/>')));
    expect(volumeOf(built.mesh)).toBe(24);
    expect(built.notes).toEqual([expect.objectContaining({ code: 'supports-dropped', count: 1 })]);
    const all = await open(package3mf(model3mf(objects, '')));
    expect(volumeOf(all.mesh)).toBe(24 + 729);
    expect(all.notes.map(({ code }) => code)).toContain('no-build');
  });

  it('follows components into other parts of the package (production extension)', async () => {
    const path =
      'xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06" requiredextensions="p"';
    const model = model3mf(
      object(8, '<components><component p:path="/3D/Objects/One.model" objectid="1"/></components>'),
      '<item objectid="8"/>',
      `unit="millimeter" ${path}`,
    );
    const part = encode(model3mf(object(1, mesh3mf(BOX)), ''));
    const { mesh } = await open(package3mf(model, [{ name: '3D/Objects/one.model', bytes: part }]));
    expect(mesh).toEqual(BOX);
  });

  it('reads prefixed elements, UTF-16, stored entries, comments, and passes over what extensions add', async () => {
    const plain = model3mf(object(1, mesh3mf(BOX)), '<item objectid="1"/>');
    const prefixed = plain
      .replace(
        /<(\/?)(model|resources|build|object|mesh|vertices|vertex|triangles|triangle|item)\b/g,
        '<$1k:$2',
      )
      .replace('xmlns="', 'xmlns:k="')
      .replace('<k:resources>', '<!-- of no matter --><k:resources><vertex x="1" y="1" z="1"/>');
    expect((await open(package3mf(prefixed))).mesh).toEqual(BOX);
    const wide = Buffer.from(`\ufeff${plain.replace('UTF-8', 'UTF-16')}`, 'utf16le');
    expect((await open(package3mf(new Uint8Array(wide)))).mesh).toEqual(BOX);
    const stored = zipOf([{ name: '3D/3dmodel.model', bytes: encode(plain), isStored: true }]);
    expect((await open(stored, 'no-relations')).mesh).toEqual(BOX);
  });

  it('refuses an archive that unpacks to far more than a scan does', async () => {
    // 20 MB of blanks shrink to 20 kB.
    const bomb = package3mf(`${model3mf('', '')}${' '.repeat(20e6)}`);
    expect(bomb.length).toBeLessThan(100e3);
    await expect(open(bomb)).rejects.toMatchObject({
      code: 'too-large',
      message: expect.stringMatching(/unpacks to more than 8000000 bytes/),
    });
  });

  it('refuses objects of objects without end, and ones that double at each step', async () => {
    const use = (id: number): string => `<component objectid="${id}"/>`;
    const self = model3mf(object(1, `<components>${use(1)}</components>`), '<item objectid="1"/>');
    await expect(open(package3mf(self))).rejects.toMatchObject({
      code: 'bad-value',
      message: expect.stringMatching(/32 deep/),
    });
    let objects = object(0, mesh3mf(BOX));
    for (let id = 1; id < 30; id++)
      objects += object(id, `<components>${use(id - 1)}${use(id - 1)}</components>`);
    await expect(open(package3mf(model3mf(objects, '<item objectid="29"/>')))).rejects.toMatchObject({
      code: 'too-large',
      message: expect.stringMatching(/100000 parts/),
    });
  });

  const changed = (from: string | RegExp, to: string): Uint8Array =>
    package3mf(model3mf(object(1, mesh3mf(BOX)), '<item objectid="1"/>').replace(from, to));

  it.each([
    ['a vertex that is not there', changed('v2="3"', 'v2="8"'), 'index-out-of-range', /names vertex 8/],
    ['a negative vertex', changed('v2="3"', 'v2="-1"'), 'bad-value', /"-1"/],
    ['nan', changed('x="2"', 'x="nan"'), 'not-finite', /vertex 1 has "nan" as its x/],
    ['too large a number', changed('x="2"', 'x="1e999"'), 'not-finite', /"1e999"/],
    ['a comma', changed('x="2"', 'x="2,5"'), 'bad-value', /"2,5"/],
    ['a missing number', changed('x="2"', ''), 'bad-value', /vertex 1/],
    ['an unknown unit', changed('millimeter', 'cubit'), 'bad-value', /"cubit"/],
    [
      'an object that is not there',
      changed('<item objectid="1"', '<item objectid="7"'),
      'index-out-of-range',
      /object "7"/,
    ],
    ['a short matrix', changed('<item', '<item transform="1 0 0"'), 'bad-value', /12 numbers/],
    ['broken XML', changed('</mesh>', '</mash>'), 'bad-value', /no sound XML/],
    [
      'an unknown demand',
      changed('unit=', 'requiredextensions="b" xmlns:b="http://example.org/lattice" unit='),
      'unknown-format',
      /lattice/,
    ],
    ['nothing built', changed(/<triangles>[\s\S]*<\/triangles>/, '<triangles/>'), 'no-faces', /no triangles/],
    [
      'the same number twice',
      changed('<object id="1"', '<object id="1"></object><object id="1"'),
      'bad-value',
      /same number/,
    ],
    [
      'an archive of something else',
      zipOf([{ name: '[Content_Types].xml', bytes: encode('<Types/>') }]),
      'unknown-format',
      /zip archive without a 3D model/,
    ],
  ])('refuses %s', async (_name, bytes, code, message) => {
    await expect(open(bytes)).rejects.toMatchObject({
      name: 'MeshError',
      code,
      message: expect.stringMatching(message),
    });
  });

  it('finds a single changed byte of the packed model by its check sum', async () => {
    const whole = simple3mf(boxMesh(2, 3, 4));
    const text = new TextDecoder('latin1').decode(whole);
    const from = text.indexOf('3D/figure.model') + '3D/figure.model'.length;
    let damaged = 0;
    for (let at = from; at < from + 200; at++) {
      const bytes = concat(whole);
      bytes[at] ^= 0x10;
      await expect(open(bytes)).rejects.toMatchObject({ name: 'MeshError' });
      damaged++;
    }
    expect(damaged).toBe(200);
  });
});
