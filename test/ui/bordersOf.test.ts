import { describe, expect, it } from 'vitest';
import { bordersOf } from '../../src/ui/bordersOf.ts';
import { fakeAnswer, fakePlan } from '../session/fakeAnswer.ts';

describe('bordersOf', () => {
  it('two pieces that share several runs of line stand once, with all of it; pieces that share none are left out', () => {
    const answer = fakeAnswer(fakePlan(), 1);
    const [a, b] = answer.result.pieces;
    const third = { ...b, id: 'C', name: 'cap' };
    const run = (from: string, to: string, lengthMm: number) => ({
      between: [from, to] as const,
      lengthMm,
      points: [],
    });
    const result = {
      ...answer.result,
      pieces: [a, b, third],
      partingLines: [run('A', 'B', 60), run('B', 'A', 40), run('C', 'A', 5)],
    };
    const borders = bordersOf({ answer: { ...answer, result } });
    expect(borders.map(({ pair, lengthMm }) => [pair[0].id, pair[1].id, lengthMm])).toEqual([
      ['A', 'B', 100],
      ['A', 'C', 5],
    ]);
  });
  it('none before the first answer', () => {
    expect(bordersOf({ answer: null })).toEqual([]);
  });
});
