import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PartingLineResult } from '../../src/core/PlanResult.ts';
import { type PartingStep, planParting } from '../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PartingLinePlan } from '../../src/core/plan/PlanDocument.ts';
import { joinLines } from '../../src/session/joinLines.ts';
import { preparedFromMesh } from '../core/parting/preparedFromMesh.ts';
import { octasphere, openHalfSphere } from '../fixtures/shapes.ts';

const R = 50;
const dome = new SurfaceContext(preparedFromMesh(openHalfSphere(R, 24), true));
const sphere = new SurfaceContext(preparedFromMesh(octasphere(R, 24), false));

const line = (id: string, closed: boolean, ...points: Vec3[]): PartingLinePlan => ({ id, closed, points });
const at = (azimuthDeg: number, heightDeg: number): Vec3 => {
  const a = (azimuthDeg * Math.PI) / 180;
  const h = (heightDeg * Math.PI) / 180;
  return [R * Math.cos(h) * Math.cos(a), R * Math.cos(h) * Math.sin(a), R * Math.sin(h)];
};

const lay = (surface: SurfaceContext, lines: readonly PartingLinePlan[]): Promise<PartingStep> =>
  planParting(surface, { ...newPlan('dome.stl').parting, lines }, new Checkpoint());

const runsOf = (step: PartingStep): PartingLineResult[] =>
  step.chains.map((chain) => ({
    between: [step.pieces[chain.left].id, step.pieces[chain.right].id],
    lengthMm: chain.lengthMm,
    points: Array.from(
      { length: chain.points.length / 3 },
      (_, i): Vec3 => [chain.points[3 * i], chain.points[3 * i + 1], chain.points[3 * i + 2]],
    ),
  }));

/** Joins every pair that shares a line, one at a time, and lays what is left: one piece fewer, the other lines where they were. */
async function expectEveryPairJoins(
  surface: SurfaceContext,
  lines: readonly PartingLinePlan[],
  pieceCount: number,
): Promise<void> {
  const before = await lay(surface, lines);
  expect(before.cut.regionCount).toBe(pieceCount);
  const runs = runsOf(before);
  const pairs = new Map(runs.map((run) => [[...run.between].sort().join(), run.between]));
  expect(pairs.size).toBeGreaterThan(0);
  for (const pair of pairs.values()) {
    const left = joinLines(runs, before.lines, pair);
    const keptMm = runs
      .filter(({ between }) => [...between].sort().join() !== [...pair].sort().join())
      .reduce((sum, run) => sum + run.lengthMm, 0);
    if (keptMm === 0) {
      expect(left).toEqual([]);
      continue;
    }
    const after = await lay(surface, left);
    expect(after.cut.regionCount, `joined ${pair.join(' and ')}`).toBe(pieceCount - 1);
    const afterMm = after.chains.reduce((sum, chain) => sum + chain.lengthMm, 0);
    // The same geodesics between the same points, but for ends put within ON_LINE_SHARE of the box.
    expect(Math.abs(afterMm - keptMm)).toBeLessThan(2e-3 * keptMm);
  }
}

const across = line('line-1', false, at(0, 0), at(0, 40), [0, 0, R], at(180, 40), at(180, 0));
const tee = line('line-2', false, at(90, 0), at(90, 40), [0, 1, R]);

describe('joinLines', () => {
  it('two pieces: nothing is left', () => expectEveryPairJoins(dome, [across], 2));

  it('three pieces that meet at a T: the line between the joined two goes, what is left is one line', async () => {
    await expectEveryPairJoins(dome, [across, tee], 3);
    const step = await lay(dome, [across, tee]);
    const runs = runsOf(step);
    const onTee = runs.find((run) => run.points.some((p) => p[1] > 20)) as PartingLineResult;
    // Without the T, the line across is itself again, with its own points and no more.
    const left = joinLines(runs, step.lines, onTee.between);
    expect(left).toHaveLength(1);
    expect(left[0].points).toHaveLength(across.points.length);
  });

  it('four pieces of two lines that cross', () =>
    expectEveryPairJoins(
      dome,
      [across, line('line-2', false, at(90, 0), at(88, 45), [1, 2, R], at(271, 45), at(270, 0))],
      4,
    ));

  it('a line that stands on a line that stands on a line', () =>
    expectEveryPairJoins(dome, [across, tee, line('line-3', false, at(45, 0), at(60, 20), at(89, 22))], 4));

  it('a cap cut in two', () =>
    expectEveryPairJoins(
      dome,
      [
        line('line-1', true, ...[0, 60, 120, 180, 240, 300].map((a) => at(a, 50))),
        line('line-2', false, at(10, 60), [1, 0, R], at(200, 60)),
      ],
      3,
    ));

  it('two rings round a body without a board', () =>
    expectEveryPairJoins(
      sphere,
      [
        line('line-1', true, ...[0, 60, 120, 180, 240, 300].map((a) => at(a, 40))),
        line('line-2', true, ...[0, 60, 120, 180, 240, 300].map((a) => at(a, -40))),
      ],
      3,
    ));

  it('three lines from the top to the board, one of them standing on the other two', () =>
    expectEveryPairJoins(
      dome,
      [
        line('line-1', false, at(0, 0), at(0, 45), [0, 0, R], at(120, 45), at(120, 0)),
        line('line-2', false, at(240, 0), at(240, 45), [0, 0, R]),
      ],
      3,
    ));
});
