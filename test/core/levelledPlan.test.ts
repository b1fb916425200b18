import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { computePlan, type PlanRun, runPlan } from '../../src/core/computePlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { StepCache } from '../../src/core/StepCache.ts';
import { thicknessAtVerts } from '../../src/core/shell/thicknessOfCoats.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { octasphere, torus } from '../fixtures/shapes.ts';

/** A build coat and a finish over a ring that lies on its board: the hole is too tight for the trowel. */
const RING = torus(20, 10, 64, 32);
function ringPlan(changes: Partial<PlanDocument> = {}, finish = true): PlanDocument {
  const plan = shapePlan({ coatsMm: [3, 2], scan: { board: 0 } });
  const coats = plan.coats.map((coat, n) => ({
    ...coat,
    kind: finish && n === 1 ? ('finish' as const) : ('build' as const),
  }));
  return { ...plan, coats, trowelRadiusMm: 30, leastThicknessMm: 4.6, ...changes };
}

describe('a plan with a levelled finish', () => {
  it('thin spots come after the amounts, and with them again when only a coat changes', async () => {
    const cache = new StepCache();
    const thins = (plan: PlanDocument, until: 'amounts' | 'pulls') => {
      const seen: (boolean | null)[] = [];
      const onEarlier = ({ result }: PlanRun): void => {
        seen.push(result.pieces.every((piece) => piece.thin === null && result.probes.length === 0));
      };
      return runPlan(plan, RING, { resolution: 2, cache, until, onEarlier }).then(({ result }) => ({
        seen,
        result,
      }));
    };
    const first = await thins(ringPlan(), 'amounts');
    expect(first.seen[0]).toBe(true);
    expect(first.result.pieces.every((piece) => piece.thin !== null)).toBe(true);
    expect(first.result.probes.length).toBeGreaterThan(0);
    const again = await thins(ringPlan(), 'amounts');
    expect(again.seen).toEqual([]);
    const changed = ringPlan();
    const thicker = { ...changed, coats: changed.coats.map((coat) => ({ ...coat, thicknessMm: 3.2 })) };
    const dragged = await thins(thicker, 'amounts');
    expect(dragged.seen).toEqual([true]);
    expect(dragged.result.pieces[0].thin).not.toBeNull();
  });

  it('levelling adds thickness, takes none, bears on no amount, and needs a finish and a trowel', async () => {
    const options = { resolution: 2, until: 'amounts' } as const;
    const levelled = await computePlan(ringPlan(), RING, options);
    const brushed = await computePlan(ringPlan({ trowelRadiusMm: null }), RING, options);
    const noFinish = await computePlan(ringPlan({}, false), RING, options);
    for (const [n, piece] of levelled.pieces.entries()) {
      expect(piece.thin?.levelledByMm).toBe(30);
      expect(piece.thin?.levelling?.volumeMm3).toBeGreaterThan(0);
      expect(piece.thin?.minMm).toBeGreaterThanOrEqual(brushed.pieces[n].thin?.minMm ?? Infinity);
      expect(brushed.pieces[n].thin?.levelledByMm).toBeNull();
      expect(noFinish.pieces[n].thin?.levelledByMm).toBeNull();
      expect(noFinish.pieces[n].thin?.minMm).toBe(brushed.pieces[n].thin?.minMm);
      // The outer side of the ring is a ridge, and stays one: the same spots are thin.
      expect(piece.thin?.areaBelowMm2).toBeGreaterThan(0);
      expect(piece.thin?.areaBelowMm2).toBeLessThanOrEqual(brushed.pieces[n].thin?.areaBelowMm2 ?? 0);
    }
    expect(levelled.shell.volumeMm3).toBe(brushed.shell.volumeMm3);
  });

  it('up to a coat below the finish the thickness is as brushed; with all of them it is levelled', async () => {
    const cache = new StepCache();
    const run = await runPlan(ringPlan(), RING, { resolution: 2, until: 'amounts', cache });
    const brushed = await runPlan(ringPlan({ trowelRadiusMm: null }), RING, {
      resolution: 2,
      until: 'amounts',
      cache,
    });
    const at = (of: PlanRun, coat: number) => thicknessAtVerts(of, coat, cache, new Checkpoint());
    expect(await at(run, 0)).toEqual(await at(brushed, 0));
    const all = await at(run, 1);
    const below = await at(brushed, 1);
    const more = all.map((x, v) => x - below[v]).filter((x) => x > 0.5);
    expect(more.length).toBeGreaterThan(100);
    expect(all.every((x, v) => !(x < below[v]))).toBe(true);
  });

  it('areas that are kept clear are no thin spots and get no pin', async () => {
    const ball = octasphere(20, 16);
    const plan = {
      ...shapePlan({ coatsMm: [3, 2], scan: { board: 'none' } }),
      leastThicknessMm: 4.5,
    };
    const clear = { name: 'key', radiusMm: 15, dabsMm: [[0, 0, 40] as const] };
    const options = { resolution: 2, until: 'amounts' } as const;
    const whole = await computePlan(plan, ball, options);
    const cleared = await computePlan({ ...plan, scan: { ...plan.scan, keepClear: [clear] } }, ball, options);
    const below = (result: typeof whole) =>
      result.pieces.reduce((sum, piece) => sum + (piece.thin?.areaBelowMm2 ?? Number.NaN), 0);
    // All of the ball is thin; the cap within 15 mm of its top, pi 15^2 by Archimedes, is not laid.
    expect(below(whole)).toBeGreaterThan(0.97 * whole.rubber.areaMm2);
    expect(Math.abs(below(whole) - below(cleared) - Math.PI * 225)).toBeLessThan(120);
    const [x, y, z] = clear.dabsMm[0];
    for (const { pointMm } of cleared.probes) {
      expect(Math.hypot(pointMm[0] - x, pointMm[1] - y, pointMm[2] - z)).toBeGreaterThan(15);
    }
  });
});
