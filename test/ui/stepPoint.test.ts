import { expect, test } from 'vitest';
import { keyHelp } from '../../src/ui/figure/keyHelp.ts';
import { stepPoint } from '../../src/ui/figure/stepPoint.ts';

test('points are gone through line by line and round again, both ways', () => {
  const counts = [2, 0, 1];
  const around = [
    { line: 0, point: 0 },
    { line: 0, point: 1 },
    { line: 2, point: 0 },
  ];
  for (const [n, place] of around.entries()) {
    expect(stepPoint(counts, place, 1)).toEqual(around[(n + 1) % 3]);
    expect(stepPoint(counts, place, -1)).toEqual(around[(n + 2) % 3]);
  }
});

test('with none selected they begin at either end; a line selected as a whole begins with its first point', () => {
  expect(stepPoint([2, 3], null, 1)).toEqual({ line: 0, point: 0 });
  expect(stepPoint([2, 3], null, -1)).toEqual({ line: 1, point: 2 });
  expect(stepPoint([2, 3], { line: 1, point: null }, 1)).toEqual({ line: 1, point: 0 });
  expect(stepPoint([], null, 1)).toBeNull();
  // A point that is gone meanwhile.
  expect(stepPoint([2], { line: 0, point: 5 }, 1)).toEqual({ line: 0, point: 0 });
});

test('what keys do at the cross is said for what is in the hand, and not when nothing is done there', () => {
  const hand = {
    drafter: { mode: 'look' },
    painter: { does: null },
    stander: { mode: 'rest' },
    canRead: false,
  } as const;
  expect(keyHelp(hand)).toBeNull();
  expect(keyHelp({ ...hand, canRead: true })).toMatch(/Reads at the cross/);
  expect(keyHelp({ ...hand, canRead: true, painter: { does: 'paint' } })).toMatch(/Space dabs/);
  expect(keyHelp({ ...hand, drafter: { mode: 'draw' } })).toMatch(/Enter takes the line/);
  expect(keyHelp({ ...hand, drafter: { mode: 'edit' } })).toMatch(/^N goes to the next point/);
  expect(keyHelp({ ...hand, canRead: true, stander: { mode: 'turn' } })).toBeNull();
});
