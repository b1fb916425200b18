import { expect, it } from 'vitest';
import { runPlan } from '../../../src/core/computePlan.ts';
import { PlanError } from '../../../src/core/errors.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import type { PlanResult } from '../../../src/core/PlanResult.ts';
import type { MarkedArea, PartingPlan } from '../../../src/core/plan/PlanDocument.ts';
import { planShape, shapePlan } from '../../fixtures/planShape.ts';
import { box, capsule, joined, moved, octasphere, scaled, turned } from '../../fixtures/shapes.ts';

/**
 * A body without any symmetry: a box with a ball stuck on one side of it, high up.
 */
const BODY = joined(moved(box(60, 40, 80), [0, 0, 0]), moved(octasphere(18, 4), [26, 6, 20]));

/** A fortieth of the largest side, mm, and never finer than 2: what is said here needs no fine field. */
function cellOf({ positions }: TriMesh): number {
  return Math.min(100, Math.max(2, positions.reduce((most, x) => Math.max(most, Math.abs(x)), 0) / 20));
}

async function outcomeOf(
  mesh: TriMesh,
  parting: Partial<PartingPlan>,
  keepClear: readonly MarkedArea[] = [],
) {
  try {
    return await planShape(
      mesh,
      { coatsMm: [5], parting, scan: { keepClear } },
      { resolution: cellOf(mesh) },
    );
  } catch (error) {
    if (error instanceof PlanError) return error;
    throw error;
  }
}

const codesOf = (outcome: PlanResult | PlanError): string[] =>
  outcome instanceof PlanError ? [outcome.code] : outcome.scan.warnings.map(({ code }) => code);

/** The lines that the tool draws on the body, as a plan keeps them once they are the user's own. */
async function drawn(): Promise<Partial<PartingPlan>> {
  const plan = shapePlan({ coatsMm: [5], parting: { pieceCount: 2, pullAzimuthsDeg: [90] } });
  const { parting } = await runPlan(plan, BODY, { until: 'amounts', resolution: 2 });
  return { lines: parting.lines };
}

it('on the scan that they were drawn on: nothing is said', async () => {
  const outcome = await outcomeOf(BODY, await drawn());
  expect(outcome).not.toBeInstanceOf(PlanError);
  expect(codesOf(outcome).filter((code) => code.endsWith('stray'))).toEqual([]);
});

const OTHERS: readonly (readonly [string, TriMesh])[] = [
  ['in inches taken for millimetres', scaled(BODY, [1 / 25.4, 1 / 25.4, 1 / 25.4])],
  ['25.4 times as large', scaled(BODY, [25.4, 25.4, 25.4])],
  ['in metres taken for millimetres', scaled(BODY, [1e-3, 1e-3, 1e-3])],
  ['1000 times as large', scaled(BODY, [1000, 1000, 1000])],
  ['a tenth larger', scaled(BODY, [1.1, 1.1, 1.1])],
  ['3 % smaller', scaled(BODY, [0.97, 0.97, 0.97])],
  ['mirrored', scaled(BODY, [-1, 1, 1])],
  ['turned by 10 degrees', turned(BODY, [0, 0, 1], Math.PI / 18)],
  ['turned by a quarter', turned(BODY, [0, 0, 1], Math.PI / 2)],
  ['laid on its side', turned(BODY, [1, 0, 0], Math.PI / 2)],
  ['moved by 5 mm', moved(BODY, [5, 0, 0])],
  ['another body', capsule(30, 40, 12)],
];

it.each(OTHERS)('on a scan that is %s: refused or said, with how far off', async (_what, mesh) => {
  const outcome = await outcomeOf(mesh, await drawn());
  if (outcome instanceof PlanError) {
    expect(outcome.code).toMatch(/bad-line|too-fine/);
    return;
  }
  const note = outcome.scan.warnings.find(({ code }) => code === 'lines-stray');
  expect(note?.text).toMatch(/^The parting lines lie up to [\d.]+ mm off the rubber: /);
  expect(note?.usText).toMatch(/ in off the rubber/);
});

it('names, filler and painted areas of another scan are said too', async () => {
  const far = [200, 0, 0] as const;
  const outcome = await outcomeOf(
    BODY,
    {
      pieces: [{ anchorMm: far, name: 'Front', pull: null }],
      notHere: [{ name: 'b', radiusMm: 5, dabsMm: [far] }],
    },
    [{ name: 'a', radiusMm: 5, dabsMm: [far, [0, 0, 300]] }],
  );
  expect(codesOf(outcome)).toEqual(expect.arrayContaining(['pieces-stray', 'areas-stray']));
  const [area] =
    outcome instanceof PlanError ? [] : outcome.scan.warnings.filter(({ code }) => code === 'areas-stray');
  expect(area.count).toBe(2);
});
