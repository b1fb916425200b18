import { describe, expect, it } from 'vitest';
import type { PieceResult, SpotResult } from '../../src/core/PlanResult.ts';
import type { SurfacePicture, UndercutPicture } from '../../src/jobs/protocol.ts';
import { depthLabels } from '../../src/ui/figure/depthLabels.ts';
import { depthLevels, sayLevel, sayLevels } from '../../src/ui/figure/depthLevels.ts';
import { deepestMm, lockKinds } from '../../src/ui/figure/lockKinds.ts';
import { spotNotes } from '../../src/ui/figure/spotNotes.ts';
import { sayTouch, touchSpan } from '../../src/ui/figure/touchSpan.ts';
import { ended } from '../fixtures/ended.ts';

describe('depthLevels', () => {
  it('are the greatest round depths below the deepest lock, five at most', () => {
    expect(depthLevels(6.2, 'metric')).toEqual([0.2, 0.5, 1, 2, 5]);
    expect(depthLevels(47, 'metric')).toEqual([1, 2, 5, 10, 20]);
    expect(depthLevels(5, 'metric')).toEqual([0.2, 0.5, 1, 2]);
    expect(depthLevels(0.1, 'metric')).toEqual([]);
  });

  it('are round in inches for those who read inches', () => {
    expect(depthLevels(30, 'us')).toEqual([1 / 16, 1 / 8, 1 / 4, 1 / 2, 1].map((inches) => inches * 25.4));
    expect(sayLevels(depthLevels(30, 'us'), 'us')).toBe('1/16, 1/8, 1/4, 1/2, 1 in');
  });

  it('are told with one unit for all', () => {
    expect(sayLevels(depthLevels(6.2, 'metric'), 'metric')).toBe('0.2, 0.5, 1, 2, 5 mm');
    expect(sayLevel(101.6, 'us')).toBe('4');
  });
});

/** A strip of squares along x, one millimetre wide, whose depth is x; it ends at `length`. */
function strip(length: number): { rubber: SurfacePicture; undercut: UndercutPicture } {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i <= length; i++) {
    positions.push(i, 0, 0, i, 1, 0);
    if (i < length) indices.push(2 * i, 2 * i + 2, 2 * i + 1, 2 * i + 1, 2 * i + 2, 2 * i + 3);
  }
  return {
    rubber: { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) },
    undercut: {
      depthMm: Float32Array.from({ length: 2 * length + 2 }, (_, v) => v >> 1),
      kind: new Uint8Array(indices.length / 3).fill(1),
    },
  };
}

describe('depthLabels', () => {
  it('stand where the depth is that of their level', () => {
    const { rubber, undercut } = strip(30);
    const labels = ended(depthLabels(rubber, undercut, [2.5, 20.25]));
    expect(labels.map(({ level }) => level)).toEqual([2.5, 20.25]);
    for (const { level, at } of labels) expect(at[0]).toBeCloseTo(level, 5);
  });

  it('stand on what locks only, and not where lines run together', () => {
    const { rubber, undercut } = strip(30);
    expect(ended(depthLabels(rubber, { ...undercut, kind: undercut.kind.map(() => 0) }, [2.5]))).toEqual([]);
    const steep = { ...undercut, depthMm: undercut.depthMm.map((mm) => 10 * mm) };
    expect(ended(depthLabels(rubber, steep, [25.5]))).toEqual([]);
  });
});

describe('what occurs', () => {
  const picture = (kind: number[], depthMm: number[]) => ({
    undercut: { kind: Uint8Array.from(kind), depthMm: Float32Array.from(depthMm) },
  });

  it('the legend names each kind once, in one order, and none for what is not known', () => {
    const pieces = [picture([0, 4, 1, 1], [1, 2]), { undercut: null }, picture([0, 1, 2], [7, 3])];
    expect(lockKinds(pieces)).toEqual([1, 2, 4]);
    expect(deepestMm(pieces)).toBe(7);
    expect(lockKinds([{ undercut: null }])).toEqual([]);
    expect(deepestMm([])).toBe(0);
  });
});

describe('sayTouch', () => {
  const say = (mm: number) => `${mm} mm`;
  const never = Infinity;

  it('tells the first touch and when the last has passed', () => {
    const span = touchSpan({
      fromMm: Float32Array.of(never, 30, 12, never),
      toMm: Float32Array.of(never, 63, 20, never),
    });
    expect(sayTouch('A', span, say)).toBe('A touches at 12 mm, is free after 63 mm');
  });

  it('tells what touches from the start, and what never does', () => {
    const atOnce = touchSpan({ fromMm: Float32Array.of(0.1), toMm: Float32Array.of(8) });
    expect(sayTouch('B', atOnce, say)).toBe('B touches at once, is free after 8 mm');
    const free = touchSpan({ fromMm: Float32Array.of(never), toMm: Float32Array.of(never) });
    expect(sayTouch('B', free, say)).toBe('B slides off free');
  });
});

describe('spotNotes', () => {
  const spot = (id: string, maxDepthMm: number, isWithinGive = false): SpotResult => ({
    id,
    kind: 'facing-away',
    by: 'rubber',
    areaMm2: 100,
    maxDepthMm,
    fillerMm3: 48_000,
    fillerG: 52,
    atMm: [maxDepthMm, 0, 0],
    isWithinGive,
  });
  const piece = (spots: readonly SpotResult[]) =>
    ({ undercut: { spots } }) as unknown as Pick<PieceResult, 'undercut'>;

  it('lead out to the worst of every piece first, never to what the rubber gives way to', () => {
    const pieces = [
      piece([spot('A1', 20), spot('A2', 18), spot('A3', 16), spot('A4', 14)]),
      piece([spot('B1', 6.2), spot('B2', 1, true)]),
      { undercut: null },
    ];
    const notes = spotNotes(pieces, 'metric');
    expect(notes.map(({ lines }) => lines[0])).toEqual([
      'A1 locks 20.0 mm',
      'B1 locks 6.2 mm',
      'A2 locks 18.0 mm',
      'A3 locks 16.0 mm',
    ]);
    expect(notes[1]).toEqual({
      spots: [[6.2, 0, 0]],
      lines: ['B1 locks 6.2 mm', expect.stringMatching(/^48(\.0)? ml of filler$/)],
    });
  });

  it('are no more than six', () => {
    const many = ['A', 'B', 'C'].map((name) => piece([1, 2, 3].map((n) => spot(`${name}${n}`, 20 - n))));
    expect(spotNotes(many, 'metric')).toHaveLength(6);
  });
});
