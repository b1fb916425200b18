import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TaskResult } from '../../../src/core/PlanResult.ts';
import { sayClock, sayCountdown, sayDay, sayMinutes } from '../../../src/report/sayClock.ts';
import { dayRows } from '../../../src/ui/day/dayRows.ts';
import { FOLD_WIDTH, foldDay, xOnAxis } from '../../../src/ui/day/foldDay.ts';
import { sayStep } from '../../../src/ui/day/sayStep.ts';
import { shortWord } from '../../../src/ui/day/shortWord.ts';

const task = (startMin: number, endMin: number, more: Partial<TaskResult> = {}): TaskResult => ({
  id: `${startMin}`,
  what: 'Step',
  kind: 'batch',
  piece: 'A',
  coat: 'Face',
  coatNumber: 0,
  batch: 1,
  startMin,
  endMin,
  attended: true,
  who: 1,
  after: [],
  soonestMin: null,
  latestMin: null,
  ...more,
});

describe('clock words', () => {
  it('writes minutes after the first midnight as the clock has them', () => {
    expect(sayClock(520, 'metric')).toBe('08:40');
    expect(sayClock(520, 'us')).toBe('8:40\u00a0am');
    expect(sayClock(12 * 60, 'us')).toBe('12:00\u00a0pm');
    expect(sayClock(24 * 60 + 5, 'us')).toBe('12:05\u00a0am');
    // 59.7 s past is the next full hour, never "08:60".
    expect(sayClock(8 * 60 + 59.7, 'metric')).toBe('09:00');
  });

  it('names the day: 1 December 2026 is a Tuesday, the day after 28 February 2027 is the first of March', () => {
    expect(sayDay(0, '2026-12-01', 'metric')).toBe('Tue 1 Dec');
    expect(sayDay(1440, '2027-02-28', 'us')).toBe('Mon, Mar 1');
    expect(sayDay(1439.8, '2026-12-01', 'metric')).toBe('Wed 2 Dec');
    expect(sayDay(3000, null, 'metric')).toBe('day 3');
  });

  it('spans and countdowns', () => {
    expect([35, 60, 80, 119.6].map(sayMinutes)).toEqual([
      '35\u00a0min',
      '1\u00a0h',
      '1\u00a0h 20\u00a0min',
      '2\u00a0h',
    ]);
    expect([-5, 1, 59_000, 724_000, 3_729_000].map(sayCountdown)).toEqual([
      '0:00',
      '0:01',
      '0:59',
      '12:04',
      '1:02:09',
    ]);
  });

  it('says a step that runs over midnight with both days, its bounds and whose hands', () => {
    const words = sayStep(
      task(23 * 60, 25 * 60, { attended: false, who: null, latestMin: 26 * 60 }),
      '2026-12-01',
      1,
      'metric',
    );
    expect(words).toEqual({
      when: 'Tue 1 Dec 23:00 to Wed 2 Dec 01:00',
      begins: 'Tue 1 Dec 23:00',
      how: '2\u00a0h, by itself',
      bounds: 'Begun by Wed 2 Dec 02:00 at the latest',
    });
    expect(sayStep(task(480, 500, { who: 2, kind: 'trim' }), null, 2, 'us').how).toBe('20\u00a0min, hands 2');
    expect(sayStep(task(480, 500), null, 2, 'us').how).toBe('20\u00a0min, all hands');
    expect(shortWord(task(0, 1, { coatNumber: 1, batch: 3 }))).toBe('3');
    expect(shortWord(task(0, 1, { kind: 'set-out', batch: null }))).toBe('set out');
  });
});

describe('the axis of the day', () => {
  it('keeps working hours to scale and folds the night between two days', () => {
    const axis = foldDay(
      [task(500, 530), task(530, 1500, { attended: false }), task(1440 + 490, 1440 + 590)],
      60,
    );
    expect(axis.spans.map((s) => [s.fromMin, s.toMin, s.width, s.isFolded])).toEqual([
      [480, 540, 60, false],
      [540, 1920, FOLD_WIDTH, true],
      [1920, 2040, 120, false],
    ]);
    expect(xOnAxis(axis, 510)).toBe(30);
    expect(xOnAxis(axis, 540 + 690)).toBe(60 + FOLD_WIDTH / 2);
    expect(xOnAxis(axis, 1980)).toBe(60 + FOLD_WIDTH + 60);
    expect(xOnAxis(axis, 0)).toBe(0);
    expect(xOnAxis(axis, 1e6)).toBe(axis.width);
  });

  it('a cure that nobody waits for comes at the end, folded; nothing at all gives no spans', () => {
    const axis = foldDay([task(480, 540), task(540, 540 + 24 * 60, { attended: false })], 60);
    expect(axis.spans.at(-1)).toMatchObject({ fromMin: 540, toMin: 540 + 1440, isFolded: true });
    expect(foldDay([], 60)).toEqual({ spans: [], width: 0 });
  });

  const schedules = fc.array(
    fc.record({ startMin: fc.nat(5000), long: fc.integer({ min: 1, max: 700 }), attended: fc.boolean() }),
    { minLength: 1, maxLength: 30 },
  );

  it('any schedule: spans join without gaps, cover all steps, and x never runs backwards (seed 404)', () => {
    fc.assert(
      fc.property(schedules, (raw) => {
        const tasks = raw.map((r) => ({ ...r, endMin: r.startMin + r.long }));
        const axis = foldDay(tasks, 72);
        for (const [i, span] of axis.spans.entries()) {
          expect(span.toMin).toBeGreaterThan(span.fromMin);
          const next = axis.spans[i + 1];
          if (!next) continue;
          expect(next.fromMin).toBe(span.toMin);
          expect(next.x).toBeCloseTo(span.x + span.width, 9);
        }
        expect(axis.spans[0].fromMin).toBeLessThanOrEqual(Math.min(...tasks.map((t) => t.startMin)));
        expect(axis.spans.at(-1)?.toMin).toBeGreaterThanOrEqual(Math.max(...tasks.map((t) => t.endMin)));
        for (const t of tasks) {
          const long = xOnAxis(axis, t.endMin) - xOnAxis(axis, t.startMin);
          expect(long).toBeGreaterThan(0);
          // Hands are never folded away: their bars are as long as their time.
          if (t.attended) expect(long).toBeCloseTo((t.long / 60) * 72, 6);
        }
      }),
      { seed: 404, numRuns: 200 },
    );
  });
});

describe('the rows of the day', () => {
  it('one a piece in the order given, then the whole mould, then the hands when there are several', () => {
    const tasks = [
      task(0, 10, { piece: 'B' }),
      task(10, 20),
      task(20, 30, { piece: null, kind: 'open', who: 2 }),
      task(12, 50, { attended: false, who: null }),
    ];
    const pieces = [
      { id: 'B', label: 'Back' },
      { id: 'A', label: 'A' },
    ];
    expect(dayRows(tasks, pieces, 1).map((r) => [r.label, r.lanes.length])).toEqual([
      ['Back', 1],
      ['A', 2],
      ['Whole mould', 1],
    ]);
    expect(dayRows(tasks, pieces, 2).map((r) => r.label)).toEqual([
      'Back',
      'A',
      'Whole mould',
      'Hands 1',
      'Hands 2',
    ]);
    // Both batches are laid by all hands, the opening by the second pair alone.
    expect(
      dayRows(tasks, pieces, 2)
        .slice(3)
        .map((r) => r.lanes.flat().length),
    ).toEqual([2, 3]);
  });

  it('no step is lost and no lane holds an overlap (seed 405)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(500), fc.integer({ min: 1, max: 60 })), { maxLength: 40 }),
        (raw) => {
          const tasks = raw.map(([start, long], i) => task(start, start + long, { id: `${i}` }));
          const lanes = dayRows(tasks, [{ id: 'A', label: 'A' }], 1).flatMap((row) => row.lanes);
          expect(
            lanes
              .flat()
              .map((t) => t.id)
              .toSorted(),
          ).toEqual(tasks.map((t) => t.id).toSorted());
          for (const lane of lanes) {
            for (let i = 1; i < lane.length; i++) {
              expect(lane[i].startMin).toBeGreaterThanOrEqual(lane[i - 1].endMin);
            }
          }
        },
      ),
      { seed: 405, numRuns: 200 },
    );
  });
});
