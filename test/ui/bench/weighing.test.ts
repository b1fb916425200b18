import { describe, expect, it } from 'vitest';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { turnPart } from '../../../src/session/benchProgress.ts';
import { findMeetingPart } from '../../../src/ui/bench/findMeetingPart.ts';
import { planWeighing } from '../../../src/ui/bench/planWeighing.ts';
import { hasPlanMovedOn, pourLines } from '../../../src/ui/bench/pourLines.ts';
import { sayWeighed } from '../../../src/ui/bench/sayWeighed.ts';
import { splitCaution } from '../../../src/ui/bench/splitCaution.ts';
import { batch } from './madeUpDay.ts';

// Own: a pocket scale to 200 g and a bench scale to 5 kg.
const scales = [
  { name: 'fine scale', mostG: 200, stepG: 0.1 },
  { name: 'bench scale', mostG: 5000, stepG: 1 },
];
const part = (item: string, massG: number, scale = 'fine scale') => ({ item, massG, scale });
const plan = (...parts: ReturnType<typeof part>[]) => planWeighing(parts, scales, (item) => item === 'mat');

describe('what the scale shows', () => {
  it('zeroed once on one scale: the sum of what is in', () => {
    const weighed = plan(part('liquid', 53.9), part('thickener', 1.1), part('powder', 134.9));
    // 53.9; 53.9 + 1.1; 53.9 + 1.1 + 134.9, without what floating sums leave over.
    expect(weighed.map(({ showsG }) => showsG)).toEqual([53.9, 55, 189.9]);
    expect(weighed.map(({ zeroWith }) => zeroWith)).toEqual(['empty bucket', null, null]);
    expect(weighed.every(({ into }) => into === 'bucket')).toBe(true);
  });

  it('on another scale the bucket is zeroed with what is in it', () => {
    const weighed = plan(
      part('liquid', 81),
      part('powder', 202, 'bench scale'),
      part('sand', 30, 'bench scale'),
    );
    expect(weighed.map(({ showsG }) => showsG)).toEqual([81, 202, 232]);
    expect(weighed.map(({ zeroWith }) => zeroWith)).toEqual(['empty bucket', 'bucket', null]);
  });

  it('a bucket too heavy for the fine scale: the part has a cup of its own', () => {
    const weighed = plan(
      part('liquid', 800, 'bench scale'),
      part('thickener', 6),
      part('powder', 1900, 'bench scale'),
    );
    expect(weighed.map(({ into }) => into)).toEqual(['bucket', 'cup', 'bucket']);
    expect(weighed.map(({ showsG }) => showsG)).toEqual([800, 6, 1900]);
    expect(weighed[2].zeroWith).toBe('bucket');
  });

  it('parts that are too much together for the scale that carries each: as well', () => {
    // 120 + 100 g are more than the 200 g of the fine scale.
    const weighed = plan(part('liquid', 120), part('powder', 100));
    expect(weighed[1]).toMatchObject({ into: 'cup', showsG: 100 });
  });

  it('mat is laid in: it never comes into the bucket', () => {
    const weighed = plan(part('liquid', 50), part('mat', 20), part('powder', 100));
    expect(weighed[1]).toMatchObject({ into: 'apart', showsG: 20 });
    expect(weighed[2]).toMatchObject({ into: 'bucket', zeroWith: 'bucket', showsG: 100 });
  });

  it('is said in one or two short sentences', () => {
    const [first, second] = plan(part('liquid', 53.9), part('powder', 1.1));
    expect(sayWeighed(first)).toBe(
      'Zero the fine scale with the empty bucket. It shows 53.9 g when it is in.',
    );
    expect(sayWeighed(second)).toBe('Do not zero. The scale shows 55 g when it is in.');
  });
});

describe('a bucket that was begun', () => {
  const made = batch();
  const document = newPlan('bust.stl');
  const empty = { job: 'bust.stl/', at: null, ticks: [], pours: [] };

  it('keeps its weights when the plan comes to others', () => {
    const [pour] = turnPart(empty, 'A/coat1/batch1', made.steps, 0).pours;
    const heavier = batch({ steps: made.steps.map((step) => ({ ...step, massG: 2 * step.massG })) });
    expect(hasPlanMovedOn(made, pour)).toBe(false);
    expect(hasPlanMovedOn(heavier, pour)).toBe(true);
    const lines = pourLines(heavier, pour, document, null, 'metric');
    expect(lines.map(({ massG, isIn }) => [massG, isIn])).toEqual([
      [53.9, true],
      [1.1, false],
      [134.9, false],
    ]);
    expect(pourLines(heavier, null, document, null, 'metric')[0].massG).toBe(107.8);
  });

  it('a tick goes as it came; empty again, it follows the plan', () => {
    const one = turnPart(empty, 'b', made.steps, 2);
    const two = turnPart(one, 'b', made.steps, 0);
    expect(two.pours[0].parts.map(({ isIn }) => isIn)).toEqual([true, false, true]);
    expect(turnPart(turnPart(two, 'b', made.steps, 0), 'b', made.steps, 2).pours).toEqual([]);
  });
});

describe('when the clock of a batch begins', () => {
  it('with the second component, whatever additives go in before', () => {
    const items = ['liquid', 'thickener', 'powder', 'fibre'];
    expect(findMeetingPart(items, ['powder', 'liquid'])).toBe(2);
    expect(findMeetingPart(items, ['liquid'])).toBeNull();
  });
});

describe('a caution', () => {
  it('is parted where it may be, and nothing of it is lost', () => {
    const text = 'Keep powder out of the air: gypsum dust is held to 5 mg/m3 (NIOSH: 0518).';
    expect(splitCaution(text)).toEqual({
      head: 'Keep powder out of the air:',
      rest: 'gypsum dust is held to 5 mg/m3 (NIOSH: 0518).',
    });
    expect(splitCaution('Trim wet.')).toEqual({ head: 'Trim wet.', rest: '' });
    // Neither in brackets nor at a short word.
    const held = 'Up: hold it (see there: twice) and lift. Then go.';
    expect(splitCaution(held)).toEqual({
      head: 'Up: hold it (see there: twice) and lift.',
      rest: 'Then go.',
    });
  });
});
