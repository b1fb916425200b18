import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';
import { planParting } from '../../../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import type { Suggestion } from '../../../../src/core/parting/suggest/Suggestion.ts';
import { suggestPartings } from '../../../../src/core/parting/suggest/suggestPartings.ts';
import { takeSuggestion } from '../../../../src/core/parting/suggest/takeSuggestion.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { octasphere, openHalfSphere, scaled, torus, turned } from '../../../fixtures/shapes.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';
import { latheBody } from './latheBody.ts';

const SLOW_MS = 120_000;
const basePlan = newPlan('body.stl');

interface Run {
  readonly surface: SurfaceContext;
  readonly plan: PlanDocument;
  readonly list: Suggestion[];
  /** How many times, and how many proposals each time, were told on the way. */
  readonly told: number[];
}

async function suggest(
  mesh: TriMesh,
  standsOnBoard: boolean,
  counts: readonly number[],
  plan: PlanDocument = basePlan,
): Promise<Run> {
  const scan = preparedFromMesh(mesh, standsOnBoard);
  const surface = new SurfaceContext(scan);
  const told: number[] = [];
  const list = await suggestPartings(scan, surface, plan, counts, new Checkpoint(), (some) =>
    told.push(some.length),
  );
  return { surface, plan, list, told };
}

const dome = openHalfSphere(50, 12);
const longDome = scaled(dome, [2, 1, 1.4]);
/** A mushroom: a stem of radius 12 under a cap of radius 40, whose underside is level. */
const mushroom = latheBody(
  [
    [12, 0],
    [12, 10],
    [12, 20],
    [12, 30],
    [26, 30],
    [40, 30],
    [38, 40],
    [32, 48],
    [20, 54],
  ],
  48,
);

/** Taking a suggestion gives a plan whose lines part the surface into these pieces with these pulls. */
async function expectTaken({ surface, plan, list }: Run): Promise<void> {
  for (const suggestion of list) {
    const step = await planParting(surface, takeSuggestion(plan, suggestion).parting, new Checkpoint());
    expect(step.cut.regionCount).toBe(suggestion.pieces.length);
    for (const [n, piece] of step.pieces.entries()) {
      expect(piece.id).toBe(suggestion.pieces[n].id);
      for (let k = 0; k < 3; k++) expect(piece.pull[k]).toBeCloseTo(suggestion.pieces[n].pull[k], 9);
    }
    const lineMm = step.chains.reduce((sum, chain) => sum + chain.lengthMm, 0);
    expect(lineMm).toBeCloseTo(suggestion.lineMm, 6);
  }
}

describe('suggestPartings', () => {
  it(
    'parts a dome in two, three and four pieces that all come free, the two first',
    async () => {
      const run = await suggest(dome, true, [2, 3, 4]);
      const { list } = run;
      expect(list.map((each) => each.rank)).toEqual(list.map((_, n) => n + 1));
      expect(new Set(list.map((each) => each.pieces.length))).toEqual(new Set([2, 3, 4]));
      expect(list[0].pieces.length).toBe(2);
      for (const each of list) {
        // A convex body can be parted so that nothing locks; the give is left for the mesh's own corners.
        expect(each.maxDepthMm).toBeLessThanOrEqual(basePlan.parting.rubberGiveMm);
        expect(each.why).toMatch(/^(Nothing of it locks|Locks nowhere deeper than the rubber yields)/);
        for (const piece of each.pieces) expect(piece.pull[2]).toBeGreaterThanOrEqual(0);
      }
      expect(run.told.length).toBeGreaterThan(3);
      expect(run.told[run.told.length - 1]).toBe(list.length);
      await expectTaken(run);
    },
    SLOW_MS,
  );

  // A cap of a sphere that goes a beyond its equator locks R (1 - cos a) deep (GEOMETRY f). Within the give of 1.5 mm at
  // R = 50 that is 14 degrees, so the line is a circle of at least cos 14 = 0.97 of the equator.
  it(
    'parts a sphere near a great circle',
    async () => {
      const run = await suggest(octasphere(50, 12), false, [2]);
      const best = run.list[0];
      expect(best.maxDepthMm).toBeLessThanOrEqual(1.5);
      expect(best.lines.map((line) => line.closed)).toEqual([true]);
      expect(best.lineMm / (100 * Math.PI)).toBeGreaterThan(0.96);
      // A line that winds by 1.5 mm to both sides is not much longer than the circle.
      expect(best.lineMm / (100 * Math.PI)).toBeLessThan(1.06);
      const [a, b] = best.pieces.map((piece) => piece.pull);
      expect(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]).toBeLessThan(-0.9);
      await expectTaken(run);
    },
    SLOW_MS,
  );

  it(
    'pulls a mushroom apart sideways, for its cap locks on the way up',
    async () => {
      const run = await suggest(mushroom, true, [2]);
      const best = run.list[0];
      expect(best.maxDepthMm).toBeLessThanOrEqual(1.5);
      // Straight up both pieces would lock 28 mm deep under the cap.
      for (const piece of best.pieces) expect(piece.pull[2]).toBeLessThan(0.3);
      await expectTaken(run);
    },
    SLOW_MS,
  );

  it(
    'parts a lying ring into an upper and a lower half',
    async () => {
      const run = await suggest(torus(40, 12, 48, 24), false, [2]);
      const best = run.list[0];
      expect(best.maxDepthMm).toBeLessThanOrEqual(1.5);
      // Seen along the pull the eye has to be open, or the inner side of the ring would lock: steeper than asin(12 / 40) and
      // more. Level pulls lock by half the ring's width.
      const [a, b] = best.pieces.map((piece) => piece.pull);
      expect(Math.abs(a[2])).toBeGreaterThan(0.5);
      expect(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]).toBeLessThan(-0.9);
      // Two equators, the outer and the inner one.
      expect(best.lines.length).toBe(2);
      await expectTaken(run);
    },
    SLOW_MS,
  );

  it(
    'keeps its lines out of an area where none may run, when there is a way round',
    async () => {
      const free = await suggest(longDome, true, [2]);
      const line = free.list[0].partingLines[0].points;
      const centreMm = line[Math.floor(line.length / 2)];
      const radiusMm = 16;
      const plan: PlanDocument = {
        ...basePlan,
        parting: { ...basePlan.parting, notHere: [{ name: 'lettering', dabsMm: [centreMm], radiusMm }] },
      };
      const kept = await suggest(longDome, true, [2], plan);
      expect(kept.list.length).toBeGreaterThan(0);
      for (const each of kept.list) {
        for (const { points } of each.partingLines) {
          for (const p of points) {
            const away = Math.hypot(p[0] - centreMm[0], p[1] - centreMm[1], p[2] - centreMm[2]);
            expect(away).toBeGreaterThan(radiusMm);
          }
        }
      }
      await expectTaken(kept);
    },
    SLOW_MS,
  );

  // The grid of directions has every half turn in it, so the same search is made on a body so turned. The body leans, so
  // that its half turn is another body.
  it(
    'turns with the body',
    async () => {
      const positions = longDome.positions.slice();
      for (let i = 0; i < positions.length; i += 3) positions[i] += 0.4 * positions[i + 2];
      const leaning = { positions, indices: longDome.indices };
      const still = await suggest(leaning, true, [2]);
      const moved = await suggest(turned(leaning, [0, 0, 1], Math.PI), true, [2]);
      const [one, two] = [still.list[0], moved.list[0]];
      expect(Math.abs(two.lineMm / one.lineMm - 1)).toBeLessThan(0.03);
      expect(Math.abs(two.maxDepthMm - one.maxDepthMm)).toBeLessThan(0.3);
      for (const { pull } of one.pieces) {
        const best = Math.max(
          ...two.pieces.map(
            ({ pull: other }) => -pull[0] * other[0] - pull[1] * other[1] + pull[2] * other[2],
          ),
        );
        expect(best).toBeGreaterThan(Math.cos((15 * Math.PI) / 180));
      }
    },
    SLOW_MS,
  );

  it('refuses numbers of pieces that cannot be', async () => {
    for (const counts of [[], [0], [2.5], [9]]) {
      await expect(suggest(dome, true, counts)).rejects.toMatchObject({
        name: 'PlanError',
        code: 'bad-plan',
      });
    }
  });

  it('stops when it is cancelled', async () => {
    const abort = new AbortController();
    const scan = preparedFromMesh(dome, true);
    const run = suggestPartings(
      scan,
      new SurfaceContext(scan),
      basePlan,
      [2],
      new Checkpoint(() => {}, abort.signal),
      () => abort.abort(),
    );
    await expect(run).rejects.toMatchObject({ name: 'AbortError' });
  });
});
