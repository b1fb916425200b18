import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { type LineLoad, loadLine } from '../../../../src/core/work/casting/LineLoad.ts';
import { fillMould } from '../../../../src/core/work/casting/MouldFill.ts';
import { shareOverLines } from '../../../../src/core/work/casting/shareOverLines.ts';
import { type SpacedFastener, spaceFasteners } from '../../../../src/core/work/casting/spaceFasteners.ts';

const CASTING = {
  densityGPerCm3: 1.6,
  attitude: 'as-built',
  levelMm: 600,
  wallMm: null,
  rubberMm: 10,
} as const;
/** Filled to 600 mm over the board. */
const FILL = fillMould(CASTING, 0, 600);

function line(points: readonly Vec3[], between: [string, string] = ['A', 'B']): LineLoad {
  const load = loadLine(between, points, FILL);
  if (load === null) throw new Error('a line of no length');
  return load;
}

const upright = line([
  [0, 0, 0],
  [0, 0, 600],
]);

const sum = (list: readonly SpacedFastener[]): number => list.reduce((total, { loadN }) => total + loadN, 0);

describe('the line’s pressure', () => {
  it('is 1/2 rho g H^2 on an upright line, and the level’s crossing is a point of it', () => {
    expect(upright.pressurePaMm).toBeCloseTo(0.5 * 1.6 * 9.80665 * 600 ** 2, 6);
    const over = line([
      [0, 0, 0],
      [0, 0, 900],
    ]);
    expect(over.pressurePaMm).toBeCloseTo(upright.pressurePaMm, 6);
    expect([...over.alongMm]).toEqual([0, 600, 900]);
  });

  it('is no line without length', () => {
    expect(loadLine(['A', 'B'], [[1, 2, 3]], FILL)).toBeNull();
    expect(loadLine(['A', 'B'], [], FILL)).toBeNull();
    expect(
      loadLine(
        ['A', 'B'],
        [
          [1, 2, 3],
          [1, 2, 3],
        ],
        FILL,
      ),
    ).toBeNull();
  });
});

describe('sharing', () => {
  it('shares a piece’s opening by pressure, and takes the larger of the two sides', () => {
    const low = line(
      [
        [0, 0, 0],
        [100, 0, 0],
      ],
      ['A', 'B'],
    );
    const half = line(
      [
        [0, 0, 300],
        [100, 0, 300],
      ],
      ['A', 'C'],
    );
    // Twice the pressure on the low one.
    const shares = shareOverLines(
      [low, half],
      new Map([
        ['A', 300],
        ['B', 50],
        ['C', 170],
      ]),
    );
    expect(shares[0]).toBeCloseTo(200, 9);
    expect(shares[1]).toBeCloseTo(170, 9);
  });

  it('shares by length where no line is under pressure, and gives nothing to a piece that is pressed on', () => {
    const dry = (length: number, between: [string, string]): LineLoad =>
      line(
        [
          [0, 0, 700],
          [length, 0, 700],
        ],
        between,
      );
    const lines = [dry(100, ['A', 'B']), dry(300, ['A', 'C'])];
    expect([...shareOverLines(lines, new Map([['A', 400]]))]).toEqual([100, 300]);
    expect([...shareOverLines(lines, new Map([['A', -400]]))]).toEqual([0, 0]);
  });
});

describe('spacing', () => {
  it('W15: of 40 fasteners that the load rules, those in the lowest quarter are 43.75 %, and each carries the same', () => {
    const list = spaceFasteners(upright, 1129.7, { workingLoadN: 1129.7 / 39.9, mostSpacingMm: 1e6 });
    expect(list.length).toBe(40);
    expect(sum(list)).toBeCloseTo(1129.7, 9);
    // A widest spacing of a kilometre adds next to nothing where the pressure vanishes.
    for (const { loadN } of list) expect(loadN).toBeCloseTo(1129.7 / 40, 2);
    const low = list.filter(({ pointMm }) => pointMm[2] < 150).length;
    // 17.5 of them: the eighteenth stands on the border, a place either way.
    expect(Math.abs(low / 40 - 0.4375)).toBeLessThanOrEqual(0.5 / 40 + 1e-12);
    for (let n = 2; n < list.length; n++) {
      expect(list[n].alongMm - list[n - 1].alongMm).toBeGreaterThan(
        list[n - 1].alongMm - list[n - 2].alongMm,
      );
    }
  });

  it('places them where a pressure triangle’s parts are equal: k + 1/2 of n from the bottom at H (1 - sqrt(1 - s))', () => {
    const list = spaceFasteners(upright, 1000, { workingLoadN: 200, mostSpacingMm: 1e9 });
    expect(list.length).toBe(5);
    for (const [k, { alongMm }] of list.entries()) {
      expect(alongMm).toBeCloseTo(600 * (1 - Math.sqrt(1 - (k + 0.5) / 5)), 3);
    }
  });

  it('is even where nothing presses: 6 at 100 mm on 600 mm, 50 mm from the ends, none loaded', () => {
    const list = spaceFasteners(upright, 0, { workingLoadN: 500, mostSpacingMm: 100 });
    expect(list.map(({ alongMm }) => Math.round(alongMm * 1e6) / 1e6)).toEqual([50, 150, 250, 350, 450, 550]);
    expect(sum(list)).toBe(0);
  });

  it('puts two on the shortest line', () => {
    const short = line([
      [0, 0, 0],
      [0, 0, 10],
    ]);
    const list = spaceFasteners(short, 1, { workingLoadN: 500, mostSpacingMm: 150 });
    expect(list.length).toBe(2);
    expect(sum(list)).toBeCloseTo(1, 12);
  });

  it('any line, load and limits: all of the load held, none over its working load, no gap over the widest, no fewer than needed', () => {
    const height = fc.double({ min: 0, max: 800, noNaN: true });
    const place = fc.double({ min: -300, max: 300, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, place, height), { minLength: 2, maxLength: 12 }),
        fc.double({ min: 0, max: 5000, noNaN: true }),
        fc.double({ min: 50, max: 2000, noNaN: true }),
        fc.double({ min: 30, max: 400, noNaN: true }),
        (points, loadN, workingLoadN, mostSpacingMm) => {
          const load = loadLine(['A', 'B'], points, FILL);
          fc.pre(load !== null && load.lengthMm > 1);
          if (load === null) return;
          const list = spaceFasteners(load, loadN, { workingLoadN, mostSpacingMm });
          expect(list.length).toBeGreaterThanOrEqual(2);
          expect(list.length).toBeGreaterThanOrEqual((loadN / workingLoadN) * (1 - 1e-9));
          expect(list.length).toBeLessThanOrEqual(2 + loadN / workingLoadN + load.lengthMm / mostSpacingMm);
          expect(sum(list)).toBeCloseTo(loadN, 6);
          let before = -mostSpacingMm / 2;
          for (const fastener of list) {
            expect(fastener.loadN).toBeLessThanOrEqual(workingLoadN * (1 + 1e-9));
            expect(fastener.alongMm - before).toBeLessThanOrEqual(mostSpacingMm * (1 + 1e-9));
            expect(fastener.alongMm).toBeGreaterThan(before);
            before = fastener.alongMm;
          }
          expect(load.lengthMm - before).toBeLessThanOrEqual((mostSpacingMm / 2) * (1 + 1e-9));
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });
});
