import { describe, expect, it } from 'vitest';
import { takeMedian } from '../../../../src/core/work/log/takeMedian.ts';

const of = (...values: number[]) => values.map((value, i) => ({ of: i, value }));

describe('median', () => {
  it('is the middle one, or the mean of the middle two', () => {
    expect(takeMedian(of(5, 1, 3))?.median).toBe(3);
    expect(takeMedian(of(4, 1, 3, 10))?.median).toBe(3.5);
    expect(takeMedian([])).toBeNull();
  });

  it('one far off hardly moves it, is named, and stays among the values', () => {
    const taken = takeMedian(of(80, 85, 90, 84, 400));
    expect(taken?.median).toBe(85);
    expect(taken?.count).toBe(5);
    expect(taken?.outliers).toEqual([{ of: 4, value: 400 }]);
    expect(taken?.values).toEqual([80, 85, 90, 84, 400]);
  });

  it('where most agree to the gram, a gram more does not stand out', () => {
    expect(takeMedian(of(50, 50, 50, 51))?.outliers).toEqual([]);
    expect(takeMedian(of(50, 50, 50, 60))?.outliers).toEqual([{ of: 3, value: 60 }]);
  });
});
