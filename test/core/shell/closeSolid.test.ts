import { expect, it } from 'vitest';
import { closeSolid, findFault } from '../../../src/core/shell/closeSolid.ts';
import { expectValidMesh, volumeAlongX } from '../../expectValidMesh.ts';
import { box, joined, moved, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';
import { dividedBox } from '../parting/dividedBox.ts';

const fail = (said: string): Error => new Error(`no solid: ${said}`);
/** 2^-24 of the size in every coordinate, three factors in a volume. */
const SINGLE_SHARE = 1e-6;

it('two boxes that overlap, cut off at the board', async () => {
  const bodies = [moved(box(10, 10, 10), [0, 0, -4]), moved(box(10, 10, 10), [5, 4, -7])];
  const mesh = await closeSolid(bodies, true, 0, 0, fail);
  expectValidMesh(mesh);
  const exact = 10 * 10 * 6 + 10 * 10 * 3 - 5 * 6 * 3;
  expect(Math.abs(volumeAlongX(mesh) / exact - 1)).toBeLessThan(SINGLE_SHARE);
  expect(Math.min(...mesh.positions.filter((_, n) => n % 3 === 2))).toBe(0);
  expect(mesh.positions.every((x) => Math.fround(x) === x)).toBe(true);
});

it('crumbs and hollows up to a size are left out, larger ones are kept', async () => {
  const crumb = moved(box(1, 1, 1), [20, 0, 0]);
  const other = moved(box(3, 3, 3), [30, 0, 0]);
  const hollow = moved(box(2, 2, 2), [4, 4, 4]);
  hollow.indices.reverse();
  const body = joined(joined(joined(box(10, 10, 10), crumb), other), hollow);
  const volume = async (crumbMm3: number): Promise<number> =>
    volumeAlongX(await closeSolid([body], false, crumbMm3, 0, fail));
  expect(await volume(0.5)).toBeCloseTo(1000 + 1 + 27 - 8, 3);
  expect(await volume(2)).toBeCloseTo(1000 + 27 - 8, 3);
  expect(await volume(10)).toBeCloseTo(1000 + 27, 3);
});

it('an open body, one wound inward, and one that is all below the board are refused', async () => {
  await expect(closeSolid([openHalfSphere(10, 6)], true, 0, 0, fail)).rejects.toThrow(
    'no solid: Not manifold',
  );
  const inward = octasphere(10, 6);
  inward.indices.reverse();
  await expect(closeSolid([inward], false, 0, 0, fail)).rejects.toThrow('no solid');
  await expect(closeSolid([moved(box(1, 1, 1), [0, 0, -2])], true, 0, 0, fail)).rejects.toThrow(
    'it is empty',
  );
  await expect(closeSolid([], true, 0, 0, fail)).rejects.toThrow('it is empty');
});

it('flat faces need few corners: a finely divided box comes back with its twelve triangles', async () => {
  const fine = dividedBox(10, 20, 30, 9);
  expect(fine.indices.length / 3).toBe(6 * 81 * 2);
  const mesh = await closeSolid([fine], false, 0, 1e-3, fail);
  expectValidMesh(mesh);
  expect(mesh.indices.length / 3).toBe(12);
  expect(Math.abs(volumeAlongX(mesh) / 6000 - 1)).toBeLessThan(SINGLE_SHARE);
});

it('findFault names what is wrong', () => {
  const sound = box(1, 2, 3);
  expect(findFault(sound)).toBeNull();
  expect(findFault({ ...sound, indices: sound.indices.slice(3) })).toBe('3 open edges');
  const turned = sound.indices.slice();
  [turned[0], turned[1]] = [turned[1], turned[0]];
  expect(findFault({ ...sound, indices: turned })).toMatch(/3 edges of more than two faces/);
  const twice = Uint32Array.from([...sound.indices, ...sound.indices]);
  expect(findFault({ ...sound, indices: twice })).toMatch(/18 edges of more than two faces/);
  expect(findFault({ ...sound, indices: sound.indices.slice().reverse() })).toBe(
    'its volume is not positive',
  );
});
