import { describe, expect, it } from 'vitest';
import type { PryingResult } from '../../src/core/PlanResult.ts';
import { isTouching } from '../../src/ui/isTouching.ts';
import { sayLengthChange } from '../../src/ui/sayLengths.ts';
import { sayPrying } from '../../src/ui/sayPrying.ts';
import { sayRemoval } from '../../src/ui/sayRemoval.ts';
import { saySpot } from '../../src/ui/saySpot.ts';

const pieces = [
  { id: 'A', name: 'front' },
  { id: 'B', name: 'back' },
  { id: 'C', name: 'C' },
];
const front = 'A\u00a0front';
const back = 'B\u00a0back';

describe('sayRemoval', () => {
  it('says nothing of a lone piece', () => {
    expect(sayRemoval({ order: ['A'], waits: [], locked: [] }, pieces.slice(0, 1))).toBe('');
  });

  it('leaves the order open where no piece waits', () => {
    expect(sayRemoval({ order: ['A', 'B', 'C'], waits: [], locked: [] }, pieces)).toBe(
      'The pieces come off in any order.',
    );
  });

  it('gives the order where one waits', () => {
    const waits = [{ piece: 'A', by: 'B' }];
    expect(sayRemoval({ order: ['B', 'A', 'C'], waits, locked: [] }, pieces)).toBe(
      `First ${back}, then ${front}, then C.`,
    );
  });

  it('names pieces that hold each other, and what comes off before', () => {
    const waits = [
      { piece: 'A', by: 'B' },
      { piece: 'B', by: 'A' },
    ];
    const two = pieces.slice(0, 2);
    expect(sayRemoval({ order: ['A', 'B'], waits, locked: ['A', 'B'] }, two)).toBe(
      `${front} and ${back} hold each other. Change a pull, or move the line between them.`,
    );
    expect(sayRemoval({ order: ['C', 'A', 'B'], waits, locked: ['A', 'B'] }, pieces)).toBe(
      `First C. ${front} and ${back} hold each other. Change a pull, or move the line between them.`,
    );
    expect(sayRemoval({ order: ['A', 'B'], waits: [], locked: ['B'] }, two)).toBe(
      `${back} cannot move along its pull, whatever comes off before.`,
    );
  });
});

describe('sayPrying', () => {
  const prying = (frees: PryingResult['frees'], name: string | null): PryingResult => ({
    frees,
    axis: name === null ? null : { pointMm: [0, 0, 0], direction: [1, 0, 0], name },
    worstMm: 0.8,
    turnDeg: 6,
  });

  it('tells pull, turn, slide and locked apart, with the axis by its name', () => {
    expect(sayPrying('A', prying('pull', null), 'metric')).toBe('A comes straight off along its pull.');
    expect(sayPrying('A', prying('turn', 'the foot'), 'metric')).toBe(
      'A: no straight pull frees it; tipped about the foot it comes off, meeting rubber by 0.80 mm at most.',
    );
    expect(sayPrying('A', prying('slide', null), 'metric')).toBe(
      'A only slides along itself; nothing lifts it clear at once.',
    );
    expect(sayPrying('A', prying('locked', 'the top edge'), 'us')).toBe(
      'A: neither a straight pull nor a small turn frees it. Tipped by 6\u00b0 about the top edge it still meets rubber by 1/32 in.',
    );
  });
});

describe('saySpot', () => {
  it('says what stands in the way', () => {
    expect(saySpot({ kind: 'facing-away', by: 'rubber' })).toBe('faces away');
    expect(saySpot({ kind: 'overshadowed', by: 'rubber' })).toBe('behind rubber');
    expect(saySpot({ kind: 'overshadowed', by: 'piece' })).toBe('behind a piece');
    expect(saySpot({ kind: 'overshadowed', by: 'board' })).toBe('behind the board');
  });
});

describe('sayLengthChange', () => {
  it('has its sign, and is silent below what can be read', () => {
    expect(sayLengthChange(6.2, 7.6, 'metric')).toBe('\u22121.4 mm');
    expect(sayLengthChange(7.6, 6.2, 'metric')).toBe('+1.4 mm');
    expect(sayLengthChange(6.2, 6.2, 'metric')).toBe('no change');
    expect(sayLengthChange(6.201, 6.2, 'metric')).toBe('no change');
  });
});

describe('isTouching', () => {
  const touch = {
    fromMm: Float32Array.from([Number.POSITIVE_INFINITY, 12, 20]),
    toMm: Float32Array.from([Number.POSITIVE_INFINITY, 15, 30]),
  };

  it('is so between the slides at which a vertex enters and leaves, and only there', () => {
    for (const mm of [13, 14.9, 25]) expect(isTouching(touch, mm), `${mm}`).toBe(true);
    for (const mm of [0, 11.9, 17, 31, 1e6]) expect(isTouching(touch, mm), `${mm}`).toBe(false);
  });
});
