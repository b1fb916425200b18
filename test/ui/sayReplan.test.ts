import { describe, expect, it } from 'vitest';
import type { CoatWork } from '../../src/core/PlanResult.ts';
import { formatLength, formatMass } from '../../src/core/units.ts';
import { sayReplan } from '../../src/ui/panels/sheet/sayReplan.ts';

const coats = [{ thicknessMm: 1.5 }, { thicknessMm: 2.5 }, { thicknessMm: 3.5 }];
const NAMES = ['Face', 'Build', 'Reinforced'];

const work = (coat: number, more: Partial<CoatWork> = {}): CoatWork => ({
  piece: 'A',
  pieceName: 'A',
  coat,
  name: NAMES[coat],
  kind: 'build',
  systemId: 'x',
  volumeMm3: 1,
  flangeMm3: 0,
  areaMm2: 1,
  densityGPerCm3: 1.8,
  massG: 100,
  dryMassG: 90,
  times: { workingMin: 20, partialCureMin: 40, fullCureMin: 90, latestOvercoatMin: null },
  laidG: 0,
  laidMm: 0,
  toLayG: 100,
  thicknessMm: coats[coat].thicknessMm,
  isDone: false,
  ...more,
});

const say = (of: readonly CoatWork[]) =>
  sayReplan(
    of,
    coats,
    (mm) => formatLength(mm, 'metric'),
    (g) => formatMass(g, 'metric'),
  );

describe('what the log changes, in words', () => {
  it('says nothing while all is as planned, or differs by less than is read', () => {
    expect(say([work(0), work(1), work(2)])).toEqual([]);
    expect(
      say([work(0, { isDone: true, laidG: 100, thicknessMm: 1.51, toLayG: 0 }), work(1), work(2)]),
    ).toEqual([]);
  });

  it('a coat that got less, and the next that makes it up', () => {
    expect(
      say([
        work(0, { isDone: true, laidG: 80, laidMm: 1.1, thicknessMm: 1.1, toLayG: 0 }),
        work(1, { thicknessMm: 2.9 }),
        work(2),
      ]),
    ).toEqual([
      'Coat 1, Face, got 0.40 mm less than planned: 1.1 mm.',
      'Coat 2, Build, makes it up: 2.9 mm in place of 2.5 mm.',
    ]);
  });

  it('a coat that got more, the next that saves it, or has nothing left', () => {
    const thick = work(0, { isDone: true, laidG: 200, laidMm: 3, thicknessMm: 3, toLayG: 0 });
    expect(say([thick, work(1, { thicknessMm: 1 }), work(2)])[1]).toBe(
      'Coat 2, Build, saves it: 1.0 mm in place of 2.5 mm.',
    );
    expect(say([thick, work(1, { thicknessMm: 0, toLayG: 0 }), work(2)])[1]).toMatch(
      /has nothing left to lay/,
    );
  });

  it('an open coat with some on says what is on and what is to go; later coats are as planned', () => {
    expect(say([work(0, { laidG: 620, toLayG: 480 }), work(1), work(2)])).toEqual([
      'Coat 1, Face, has 620 g on; 480 g to go.',
    ]);
  });

  it('a done coat without a batch in the log is taken as planned', () => {
    expect(say([work(0, { isDone: true, toLayG: 0 }), work(1), work(2)])).toEqual([]);
  });
});
