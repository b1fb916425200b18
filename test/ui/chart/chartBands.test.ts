import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { bandsOf, spreadOnDisc, spreadSet } from '../../../src/ui/chart/chartBands.ts';
import { chartLevels } from '../../../src/ui/chart/chartLevels.ts';
import { nearestDirection } from '../../../src/ui/chart/nearestDirection.ts';
import { pullOf } from '../../../src/ui/chart/pullDisc.ts';

const STEP_DEG = 5;
const disc = { rimDeg: 90 };

/** Rings of directions five degrees apart, as many to a ring as its girth asks for. */
function halfSphere(): Float32Array {
  const out: number[] = [0, 0, 1];
  for (let rise = 85; rise >= 0; rise -= STEP_DEG) {
    const count = Math.max(6, Math.round((360 * Math.cos((rise * Math.PI) / 180)) / STEP_DEG));
    for (let k = 0; k < count; k++) out.push(...pullOf((360 * k) / count, rise));
  }
  return Float32Array.from(out);
}

const directions = halfSphere();

/** Area inside an SVG path of straight strokes, even-odd, by the shoelace formula over rings of d3's winding. */
function areaOf(path: string): number {
  let area = 0;
  for (const ring of path.split('M').slice(1)) {
    const points = ring
      .replace('Z', '')
      .split('L')
      .map((p) => p.split(' ').map(Number));
    points.forEach(([x, y], i) => {
      const [nx, ny] = points[(i + 1) % points.length];
      area += (x * ny - nx * y) / 2;
    });
  }
  return Math.abs(area);
}

describe('bands of a chart', () => {
  it('closes a band round the middle where the values grow with the rise: a disc of the level’s radius', () => {
    const values = Float32Array.from({ length: directions.length / 3 }, (_, i) => {
      const z = Math.min(1, directions[3 * i + 2]);
      return (Math.asin(z) * 180) / Math.PI;
    });
    const raster = spreadOnDisc(disc, directions, values, STEP_DEG);
    const [band] = bandsOf(raster, [45]);
    expect(band.level).toBe(45);
    // Rise 45 degrees lies at half the radius; the raster is 0.0175 apart, the bell 2.5 degrees (0.028) wide.
    expect(Math.sqrt(areaOf(band.path) / Math.PI)).toBeCloseTo(0.5, 1);
    expect(Math.abs(Math.sqrt(areaOf(band.path) / Math.PI) - 0.5)).toBeLessThan(0.01);
  });

  it('spreads a constant as that constant', () => {
    const raster = spreadOnDisc(disc, directions, new Float32Array(directions.length / 3).fill(3), STEP_DEG);
    for (const value of raster.values) expect(value).toBeCloseTo(3, 5);
    expect(bandsOf(raster, [4])[0].path).toBe('');
  });

  it('outlines a set of directions', () => {
    const set: Vec3[] = [];
    for (let i = 0; i < directions.length; i += 3) {
      if (directions[i + 2] > Math.cos((30 * Math.PI) / 180)) {
        set.push([directions[i], directions[i + 1], directions[i + 2]]);
      }
    }
    const [band] = bandsOf(spreadSet(disc, directions, set, STEP_DEG), [0.5]);
    // Directions up to 25 degrees from straight up are in the set (30 is its open border), the next ring at 30 is not: 27.5 of 90.
    expect(Math.abs(Math.sqrt(areaOf(band.path) / Math.PI) - 27.5 / 90)).toBeLessThan(0.02);
  });

  it('finds the direction nearest to a pull', () => {
    expect(nearestDirection(directions, [0.01, 0, 1])).toBe(0);
    const i = nearestDirection(directions, [1, 0.01, 0]);
    expect(directions[3 * i]).toBeCloseTo(1, 5);
    expect(nearestDirection(new Float32Array(0), [1, 0, 0])).toBe(-1);
  });
});

describe('levels of a chart', () => {
  it('begin where the rubber no longer yields and go by round figures', () => {
    expect(chartLevels(Float32Array.from([0, 4, 31]), 'depth', 'metric', 1.5)).toEqual([1.5, 2, 5, 10, 20]);
    const inches = chartLevels(Float32Array.from([0, 4, 31]), 'depth', 'us', 1.5);
    expect(inches.slice(1)).toEqual([1 / 8, 1 / 4, 1 / 2, 1].map((x) => x * 25.4));
  });

  it('are at most six, and none where everything is free', () => {
    expect(chartLevels(Float32Array.from([0, 400]), 'depth', 'metric', 0.1).length).toBeLessThanOrEqual(6);
    expect(chartLevels(Float32Array.from([0, 1.2]), 'depth', 'metric', 1.5)).toEqual([]);
    expect(chartLevels(new Float32Array(0), 'depth', 'metric', 1.5)).toEqual([]);
  });

  it('leave the floor out where no direction is as good', () => {
    const levels = chartLevels(Float32Array.from([12, 30, 95]), 'depth', 'metric', 1.5);
    expect(levels).toEqual([20, 40, 60, 80]);
  });

  it('take even steps where all directions are about as bad', () => {
    expect(chartLevels(Float32Array.from([10.8, 15, 24.1]), 'depth', 'metric', 1.5)).toEqual([15, 20]);
    expect(chartLevels(Float32Array.from([10.8, 15, 24.1]), 'depth', 'us', 1.5).length).toBeGreaterThan(1);
  });

  it('count volumes in millilitres', () => {
    const levels = chartLevels(Float32Array.from([0, 9_500]), 'filler', 'metric', 0);
    expect(levels[0]).toBe(0);
    expect(levels.at(-1)).toBeCloseTo(5_000, 6);
  });
});
