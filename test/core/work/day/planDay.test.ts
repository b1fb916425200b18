import { describe, expect, it } from 'vitest';
import type { CoatWork, TaskResult } from '../../../../src/core/PlanResult.ts';
import type { LoggedBatch, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { planBatches } from '../../../../src/core/work/batches/planBatches.ts';
import { planDay } from '../../../../src/core/work/day/planDay.ts';
import { planCoatWork } from '../../../../src/core/work/log/planCoatWork.ts';
import { madeUpBatch, madeUpBatches, madeUpGround, madeUpWork, tradeDay } from './madeUpDay.ts';

const TWO = madeUpGround(['A', 'B'], [['A', 'B']]);

/** Day, clock and id: "1 09:07 A/coat1/batch1". */
function clockOf(schedule: readonly TaskResult[]): string[] {
  return schedule.map(({ id, startMin, endMin }) => `${say(startMin)}-${say(endMin).slice(2)} ${id}`);
}

function say(minutes: number): string {
  const ofDay = minutes % 1440;
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${Math.floor(minutes / 1440) + 1} ${two(Math.floor(ofDay / 60))}:${two(ofDay % 60)}`;
}

function day(plan: PlanDocument, ids: readonly string[], ground = TWO, of = 1) {
  const work = madeUpWork(plan, ids);
  return planDay(plan, work, madeUpBatches(work, of), ground);
}

function logged(piece: string, coat: number, at = ''): LoggedBatch {
  return { piece, coat, number: 1, mixedG: 2000, leftG: null, layMin: null, at };
}

/** Coats of the piece up to this number done, as the log has it. */
function doneTo(work: readonly CoatWork[], piece: string, coat: number): CoatWork[] {
  return work.map((one) =>
    one.piece === piece && one.coat <= coat
      ? { ...one, isDone: true, laidG: one.massG, laidMm: one.thicknessMm, toLayG: 0 }
      : one,
  );
}

describe('planDay by the check values from the trade (common practice, no source)', () => {
  it('gives both halves in order: release to dry, 60, 60 and 30 min between coats, 90 before the shims come out', () => {
    const { schedule, notes } = day(tradeDay(), ['A', 'B']);
    // By hand: 0.5 m of wall at 40 min a metre; batches of 3 min mixing and 12 laying; the bench set out while the release dries.
    expect(clockOf(schedule)).toEqual([
      '1 08:00-08:20 A/wall',
      '1 08:20-08:30 A/release',
      '1 08:30-08:55 A/dry',
      '1 08:30-08:40 A/set-out',
      '1 08:55-09:10 A/coat1/batch1',
      '1 09:10-10:10 A/coat1/cure',
      '1 10:10-10:25 A/coat2/batch1',
      '1 10:25-11:25 A/coat2/cure',
      '1 11:25-11:40 A/coat3/batch1',
      '1 11:40-12:10 A/coat3/cure',
      '1 12:10-12:25 A/coat4/batch1',
      '1 12:25-13:55 A/coat4/full-cure',
      '1 13:55-14:05 A/shims',
      '1 14:05-14:20 A/clean',
      '1 14:20-14:30 B/release',
      '1 14:30-14:55 B/dry',
      '1 14:30-14:40 B/set-out',
      '1 14:55-15:10 B/coat1/batch1',
      '1 15:10-16:10 B/coat1/cure',
      '1 16:10-16:25 B/coat2/batch1',
      '1 16:25-17:25 B/coat2/cure',
      '2 08:00-08:15 B/coat3/batch1',
      '2 08:15-08:45 B/coat3/cure',
      '2 08:45-09:00 B/coat4/batch1',
      '2 09:00-10:30 B/coat4/full-cure',
      '2 10:30-10:50 A/trim',
      '2 10:50-11:10 B/trim',
      '2 11:10-11:30 open',
      '2 11:30-11:50 assemble',
    ]);
    expect(notes).toEqual([]);
    const release = (piece: string) => schedule.find(({ id }) => id === `${piece}/release`)?.what;
    expect(release('A')).toBe('Piece A: release on shims and board');
    expect(release('B')).toBe('Piece B: release on board and the edge of Piece A');
  });

  it('keeps the waits from a scan’s amounts and the bench’s batches, too', () => {
    const plan = tradeDay();
    const work = planCoatWork(plan, TWO);
    const { batches } = planBatches(plan, work);
    const { schedule } = planDay(plan, work, batches, TWO);
    const waits = (piece: string, kind: string): number[] =>
      schedule
        .filter((task) => task.piece === piece && task.kind === kind)
        .map(({ startMin, endMin }) => endMin - startMin);
    for (const piece of ['A', 'B']) {
      expect(waits(piece, 'cure')).toEqual([60, 60, 30, 90]);
      expect(waits(piece, 'dry')).toEqual([25]);
    }
    expect(schedule.filter(({ kind }) => kind === 'batch')).toHaveLength(batches.length);
    // An accelerated mix of 7 min is laid in many small batches: that coat has the most steps.
    expect(batches.filter(({ coatNumber }) => coatNumber === 2).length).toBeGreaterThan(10);
  });

  it('sums the day on the clock', () => {
    const { schedule, day: sums } = day(tradeDay(), ['A', 'B']);
    const attended = schedule.filter((task) => task.attended);
    const minutes = attended.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
    expect(sums.attendedMin).toBe(minutes);
    expect(sums.attendedMin).toBe(20 + 2 * (10 + 10 + 4 * 15 + 20) + 25 + 40);
    expect(sums.days).toBe(2);
    expect(sums.endMin).toBe(1440 + 11 * 60 + 50);
    // All cures and drying, less the setting out that falls into it; the second coat's cure runs past closing time.
    expect(sums.unattendedMin).toBe(2 * (25 - 10 + 60 + 60 + 30 + 90));
  });
});

describe('planDay', () => {
  it('builds the pieces in the day’s order', () => {
    const { schedule } = day(tradeDay({ order: ['B'] }), ['A', 'B']);
    const first = schedule.find(({ kind }) => kind === 'wall');
    expect(first?.piece).toBe('B');
    const start = (id: string) => schedule.find((task) => task.id === id)?.startMin ?? Number.NaN;
    expect(start('B/clean')).toBeLessThan(start('A/release'));
  });

  it('works on a piece without a common border while another cures, and on neighbours one after the other', () => {
    const ids = ['A', 'B', 'C'];
    const ground = madeUpGround(ids, [
      ['A', 'B'],
      ['B', 'C'],
    ]);
    const plan = tradeDay({ order: ['A', 'C', 'B'] });
    for (const hands of [1, 2]) {
      const { schedule } = day({ ...plan, bench: { ...plan.bench, hands } }, ids, ground);
      const at = (id: string) => schedule.find((task) => task.id === id) as TaskResult;
      expect(at('C/coat1/batch1').startMin).toBeLessThan(at('A/coat4/full-cure').startMin);
      expect(at('B/release').startMin).toBeGreaterThanOrEqual(at('A/clean').endMin);
      expect(at('B/release').startMin).toBeGreaterThanOrEqual(at('C/clean').endMin);
      // Walls are set up by two people at once; a batch takes them all.
      expect(at('A/wall').startMin === at('C/wall').startMin).toBe(hands === 2);
      const batches = schedule.filter(({ kind }) => kind === 'batch');
      for (const batch of batches) {
        const beside = schedule.filter(
          (task) =>
            task.attended &&
            task.id !== batch.id &&
            task.startMin < batch.endMin &&
            task.endMin > batch.startMin,
        );
        expect(beside).toEqual([]);
        expect(batch.who).toBe(1);
      }
    }
  });

  it('has neither wall nor shims in one piece', () => {
    const { schedule } = day(tradeDay(), ['A'], madeUpGround(['A'], []));
    expect(schedule.map(({ kind }) => kind)).not.toContain('wall');
    expect(schedule.map(({ kind }) => kind)).not.toContain('shims');
    expect(schedule.find(({ kind }) => kind === 'release')?.what).toBe('Piece A: release on board');
  });

  it('leaves out a step of no minutes and waits for what that would have waited for', () => {
    const plan = tradeDay();
    const stepMin = { ...plan.day.stepMin, shimsOut: 0, edgeClean: 0, setOut: 0 };
    const { schedule } = day({ ...plan, day: { ...plan.day, stepMin } }, ['A', 'B']);
    expect(schedule.map(({ id }) => id)).not.toContain('A/shims');
    expect(schedule.find(({ id }) => id === 'B/release')?.after).toEqual(['A/coat4/full-cure']);
  });

  it('takes the user’s own wait for the full cure after the last coat', () => {
    const plan = tradeDay();
    const coats = plan.coats.map((coat, n) => (n === 3 ? { ...coat, waitMin: 120 } : coat));
    const { schedule } = day({ ...plan, coats }, ['A', 'B']);
    const cure = schedule.find(({ id }) => id === 'A/coat4/full-cure');
    expect((cure?.endMin ?? 0) - (cure?.startMin ?? 0)).toBe(120);
  });

  it('lays a coat in one go: begins it the next morning rather than stop in the middle of it', () => {
    const { schedule } = day(tradeDay({ toMin: 600 }), ['A', 'B'], TWO, 4);
    const batches = schedule.filter(({ kind }) => kind === 'batch');
    expect(batches).toHaveLength(2 * 4 * 4);
    for (const [n, batch] of batches.entries()) {
      if (n % 4 > 0) expect(batch.startMin).toBe(batches[n - 1].endMin);
    }
    // An hour of laying after 08:55 is over at 09:55; the next hour does not fit into what is left of that day.
    expect(
      clockOf(batches)
        .filter((_, n) => n % 4 === 0)
        .slice(0, 2),
    ).toEqual(['1 08:55-09:10 A/coat1/batch1', '2 08:00-08:15 A/coat2/batch1']);
  });

  it('says when a coat or a step is longer than the day', () => {
    const plan = tradeDay({ toMin: 540 });
    const { schedule, notes } = day(
      { ...plan, day: { ...plan.day, stepMin: { ...plan.day.stepMin, wallPerM: 200 } } },
      ['A', 'B'],
      TWO,
      5,
    );
    expect(notes.map(({ code, piece, coat }) => ({ code, piece, coat }))).toContainEqual({
      code: 'day-too-short',
      piece: 'A',
      coat: 0,
    });
    const wall = schedule.find(({ id }) => id === 'A/wall');
    expect(wall?.startMin).toBe(480);
    expect(notes.find(({ text }) => text.startsWith('Piece A: parting wall'))?.text).toMatch(
      /takes 1\u00a0h 40\u00a0min, the working day has 1\u00a0h/,
    );
  });

  describe('overcoat windows', () => {
    const within = (latestOvercoatMin: number, times = {}): PlanDocument => {
      const plan = tradeDay();
      return {
        ...plan,
        material: { ...plan.material, times: { ...plan.material.times, latestOvercoatMin, ...times } },
      };
    };

    it('shifts the coats to a start from which every next one is on in time', () => {
      // 60 min of cure, on within 120: the second half's coats no longer fit before 17:00, and an evening is too long a wait.
      const { schedule, notes } = day(within(120), ['A', 'B']);
      expect(notes).toEqual([]);
      const coats = clockOf(schedule.filter(({ kind, piece }) => kind === 'batch' && piece === 'B'));
      expect(coats).toEqual([
        '2 08:00-08:15 B/coat1/batch1',
        '2 09:15-09:30 B/coat2/batch1',
        '2 10:30-10:45 B/coat3/batch1',
        '2 11:15-11:30 B/coat4/batch1',
      ]);
      for (const task of schedule) {
        if (task.latestMin !== null) expect(task.startMin).toBeLessThanOrEqual(task.latestMin);
        if (task.soonestMin !== null) expect(task.startMin).toBeGreaterThanOrEqual(task.soonestMin);
      }
      const second = schedule.find(({ id }) => id === 'B/coat2/batch1');
      expect(second?.soonestMin).toBe(1440 + 9 * 60 + 15);
      expect(second?.latestMin).toBe(1440 + 8 * 60 + 15 + 120);
    });

    it('counts from the batch that lies under each batch', () => {
      const { schedule } = day(within(140), ['A', 'B'], TWO, 2);
      const at = (id: string) => schedule.find((task) => task.id === id) as TaskResult;
      expect(at('A/coat2/batch1').latestMin).toBe(at('A/coat1/batch1').endMin + 140);
      expect(at('A/coat2/batch2').latestMin).toBe(at('A/coat1/batch2').endMin + 140);
      expect(at('A/coat1/batch1').latestMin).toBeNull();
    });

    it('says so when a coat must wait longer than it may', () => {
      const { schedule, notes } = day(within(45), ['A', 'B']);
      expect(notes.map(({ code, piece, coat }) => [code, piece, coat])).toEqual([
        ['window-missed', 'A', 1],
        ['window-missed', 'A', 2],
        ['window-missed', 'B', 1],
        ['window-missed', 'B', 2],
      ]);
      expect(notes[0].text).toMatch(
        /^Piece A, coat 2 \(Build\) must wait 1\u00a0h for the coat below and yet be on within 45\u00a0min/,
      );
      const second = schedule.find(({ id }) => id === 'A/coat2/batch1') as TaskResult;
      expect(second.startMin).toBeGreaterThan(second.latestMin ?? Number.POSITIVE_INFINITY);
    });

    it('says so when the day is too short to hold them', () => {
      const plan = within(120);
      const short = { ...plan, day: { ...plan.day, toMin: 540 } };
      const { notes } = day(short, ['A', 'B']);
      const missed = notes.filter(({ code }) => code === 'window-missed');
      // An hour a day: a coat and its hour of cure are never followed by the next on the same day, but for the quick one.
      expect(missed.map(({ piece, coat }) => [piece, coat])).toEqual([
        ['A', 1],
        ['A', 2],
        ['B', 1],
        ['B', 2],
      ]);
      expect(missed[0].text).toMatch(/Longer hours, more hands or smaller pieces/);
    });
  });

  describe('by the log', () => {
    const dated = (batches: readonly LoggedBatch[]): PlanDocument => {
      const plan = tradeDay({ startDate: '2026-12-01' });
      return { ...plan, log: { ...plan.log, batches } };
    };
    const run = (plan: PlanDocument, work: readonly CoatWork[]) =>
      planDay(plan, work, madeUpBatches(work), TWO).schedule;

    it('leaves out what is past and goes on from the last time in the log', () => {
      const plan = dated([
        logged('A', 0, '2026-12-01T09:30:00+01:00'),
        logged('A', 1, '2026-12-01T10:50:00+01:00'),
      ]);
      const schedule = run(plan, doneTo(madeUpWork(plan, ['A', 'B']), 'A', 1));
      expect(clockOf(schedule).slice(0, 3)).toEqual([
        '1 10:50-11:50 A/coat2/cure',
        '1 11:50-12:05 A/coat3/batch1',
        '1 12:05-12:35 A/coat3/cure',
      ]);
      expect(schedule.some(({ id }) => id === 'A/wall' || id === 'A/coat1/batch1')).toBe(false);
      expect(schedule.some(({ id }) => id === 'B/release')).toBe(true);
    });

    it('takes the last coat for fresh when the log has no time of the shop’s clock', () => {
      for (const at of ['', '2026-12-01T09:30:00.000Z']) {
        const plan = dated([logged('A', 0, at)]);
        const schedule = run(plan, doneTo(madeUpWork(plan, ['A', 'B']), 'A', 0));
        expect(clockOf(schedule).slice(0, 2)).toEqual([
          '1 08:00-09:00 A/coat1/cure',
          '1 09:00-09:15 A/coat2/batch1',
        ]);
      }
    });

    it('goes on with the second half when that is begun', () => {
      const plan = dated([logged('A', 3, '2026-12-01T12:00:00'), logged('B', 0, '2026-12-01T15:00:00')]);
      const work = doneTo(doneTo(madeUpWork(plan, ['A', 'B']), 'A', 3), 'B', 0);
      expect(clockOf(run(plan, work)).slice(0, 2)).toEqual([
        '1 15:00-16:00 B/coat1/cure',
        '1 16:00-16:15 B/coat2/batch1',
      ]);
    });

    it('goes on at once within a coat that is begun', () => {
      const plan = dated([logged('A', 0, '2026-12-01T09:30:00')]);
      const work = madeUpWork(plan, ['A', 'B']).map((one) =>
        one.piece === 'A' && one.coat === 0 ? { ...one, laidG: 1000, toLayG: 1000 } : one,
      );
      const batches = madeUpBatches(work).map((batch) =>
        batch.piece === 'A' && batch.coatNumber === 0
          ? { ...madeUpBatch(work[0], 1, 2), loggedG: 2000 }
          : batch,
      );
      batches.splice(1, 0, madeUpBatch(work[0], 2, 2));
      const { schedule } = planDay(plan, work, batches, TWO);
      expect(clockOf(schedule)[0]).toBe('1 09:30-09:45 A/coat1/batch2');
    });

    it('waits for nothing that is never laid', () => {
      const plan = tradeDay();
      const work = madeUpWork(plan, ['A', 'B']).map((one) =>
        one.piece === 'A' && one.coat === 3 ? { ...one, thicknessMm: 0, toLayG: 0, isDone: true } : one,
      );
      const { schedule } = planDay(plan, work, madeUpBatches(work), TWO);
      const cures = schedule
        .filter(({ kind, piece }) => kind === 'cure' && piece === 'A')
        .map(({ id }) => id);
      expect(cures).toEqual(['A/coat1/cure', 'A/coat2/cure', 'A/coat3/full-cure']);
    });

    it('ends with trimming and opening when all coats are done', () => {
      const plan = dated([logged('A', 3, '2026-12-01T12:00:00'), logged('B', 3, '2026-12-01T15:40:00')]);
      const work = doneTo(doneTo(madeUpWork(plan, ['A', 'B']), 'A', 3), 'B', 3);
      expect(clockOf(run(plan, work))).toEqual([
        '1 15:40-17:10 B/coat4/full-cure',
        '2 08:00-08:20 A/trim',
        '2 08:20-08:40 B/trim',
        '2 08:40-09:00 open',
        '2 09:00-09:20 assemble',
      ]);
    });
  });
});
