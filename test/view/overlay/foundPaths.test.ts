import { describe, expect, it } from 'vitest';
import type { MarkPicture } from '../../../src/jobs/protocol.ts';
import { foundLook } from '../../../src/view/overlay/foundLooks.ts';
import { foundPaths } from '../../../src/view/overlay/foundPaths.ts';

const mark = (code: string, more: Partial<MarkPicture> = {}): MarkPicture => ({
  code,
  points: Float32Array.of(1, 2, 3),
  isLoop: false,
  ...more,
});
const TRIS = Float32Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0);
const EDGES = Float32Array.of(0, 0, 0, 1, 0, 0, 1, 0, 0, 0, 1, 0);

describe('foundPaths', () => {
  it('strikes a patch by its kind: border and filling, and a cross at its middle of 6 thousandths of the diagonal', () => {
    const { strokes, fills } = foundPaths([mark('crumbs-dropped', { tris: TRIS, edges: EDGES })], 1000);
    expect(strokes.broken.map((path) => [...(path as Float32Array)])).toEqual([
      [0, 0, 0, 1, 0, 0],
      [1, 0, 0, 0, 1, 0],
    ]);
    expect(strokes.whole).toEqual([
      [-5, 2, 3, 7, 2, 3],
      [1, -4, 3, 1, 8, 3],
      [1, 2, -3, 1, 2, 9],
    ]);
    expect([...fills]).toEqual([['dots', [TRIS]]]);
  });

  it('draws a hole left open by its outline alone, a filled one hatched too', () => {
    const loop = Float32Array.of(0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 0, 0);
    const { strokes, fills } = foundPaths(
      [
        mark('holes-left', { points: loop, isLoop: true }),
        mark('holes-filled', { points: loop, isLoop: true, tris: TRIS }),
      ],
      100,
    );
    expect(strokes.whole).toEqual([loop, loop]);
    expect([...fills.keys()]).toEqual(['rising']);
  });

  it('tells every two kinds that lie on the mesh apart by stroke or filling, without colour', () => {
    const codes = [
      'holes-left',
      'holes-filled',
      'skirt-added',
      'faces-turned',
      'duplicate-faces-dropped',
      'non-manifold-parted',
      'cut-closed',
    ];
    const looks = codes.map((code) => JSON.stringify(foundLook(code)));
    expect(new Set(looks).size).toBe(codes.length);
    const gone = ['fins-dropped', 'crumbs-dropped', 'inner-parts-dropped', 'cropped'].map(foundLook);
    expect(gone.every(({ stroke }) => stroke === 'broken')).toBe(true);
    expect(new Set(gone.map(({ fill }) => fill)).size).toBe(4);
  });
});
