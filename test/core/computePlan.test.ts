import { describe, expect, it } from 'vitest';
import { computePlan, type PlanRun, runPlan } from '../../src/core/computePlan.ts';
import { PlanError } from '../../src/core/errors.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { StepCache } from '../../src/core/StepCache.ts';
import { planShape, shapePlan } from '../fixtures/planShape.ts';
import { box, moved, octasphere, openHalfSphere } from '../fixtures/shapes.ts';
import { ROUNDING_SHARE } from '../tolerances.ts';

const MESH = openHalfSphere(25, 12);
const parted = (coatsMm: readonly number[] = [2, 3]): PlanDocument =>
  shapePlan({
    coatsMm,
    scan: { board: 0 },
    parting: { pieceCount: 2, pullAzimuthsDeg: [30] },
    flange: { widthMm: 16, thicknessMm: 6 },
  });

/** Every number of a JSON value with the way to it. */
function numbersOf(value: unknown, path = '$'): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (Array.isArray(value)) return value.flatMap((item, n) => numbersOf(item, `${path}[${n}]`));
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, item]) => numbersOf(item, `${path}.${key}`));
}

describe('the result', () => {
  it('has every key of the contract, every number finite, and survives JSON unchanged', async () => {
    const result = await computePlan(parted(), MESH, { resolution: 2 });
    for (const [path, number] of numbersOf(result)) expect(Number.isFinite(number), path).toBe(true);
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
    // CONTRACT of the design, "The result": more may stand beside these, none may go.
    const keys = (value: object, wanted: string): void => {
      for (const key of wanted.split(' ')) expect(value, key).toHaveProperty(key);
    };
    keys(
      result,
      'schema scan resolutionMm rubber shell pieces partingLines batches shopping schedule cost casting handling cautions timesMs',
    );
    keys(result.scan, 'triangles components openEdges nonManifoldEdges sizeMm unit warnings repairs');
    keys(result.rubber, 'areaMm2 heightMm volumeMm3');
    keys(result.shell, 'thicknessMm volumeMm3 volumeErrorMm3 massG massErrorG');
    expect(result.pieces).toHaveLength(2);
    for (const piece of result.pieces) {
      keys(
        piece,
        'id name pull areaMm2 volumeMm3 volumeErrorMm3 massG centreOfMassMm coats flange undercut thin',
      );
      for (const coat of piece.coats) keys(coat, 'name fromMm toMm volumeMm3 volumeErrorMm3 massG');
      keys(piece.flange, 'lengthMm volumeMm3 massG');
      keys(piece.thin ?? {}, 'minMm areaBelowMm2');
      expect(Math.hypot(...piece.pull)).toBeCloseTo(1, 9);
    }
    for (const line of result.partingLines) keys(line, 'between lengthMm points');
    keys(result.timesMs, 'read repair field coats thin pieces undercut total');
    expect(result.schema).toBe('scute-result/1');
    expect(result.preliminary).toBe(false);
    expect(result.resolutionMm).toBe(2);
    expect(result.shell.thicknessMm).toBe(5);
  });

  it.each([
    ['cells far coarser than the coats', 20],
    ['cells as coarse as the body', 50],
  ])('stays finite with %s', async (_name, resolution) => {
    const result = await computePlan(parted([0.5, 1]), MESH, { resolution, until: 'amounts' });
    for (const [path, number] of numbersOf(result)) expect(Number.isFinite(number), path).toBe(true);
  });

  it('a bare pattern: the shell lies over the rubber, the rubber has its own volume', async () => {
    const ball = octasphere(20, 16);
    const scan = { is: 'pattern', rubberMm: 6 } as const;
    const over = await computePlan(shapePlan({ coatsMm: [4], scan }), ball, {
      resolution: 2,
      until: 'amounts',
    });
    const whole = await computePlan(shapePlan({ coatsMm: [6, 4] }), ball, {
      resolution: 2,
      until: 'amounts',
    });
    const [rubber, shell] = whole.pieces[0].coats;
    // The same cells give both; knots differ by the band's room, which is the same here.
    expect(over.rubber.layer?.volumeMm3 ?? 0).toBeCloseTo(rubber.volumeMm3, 6);
    expect(over.shell.volumeMm3).toBeCloseTo(shell.volumeMm3, 6);
    expect(over.rubber.heightMm).toBeCloseTo(46, 9);
    // Area of the parallel surface, Steiner: 4 pi (r + 6)^2, here within the cells' second order.
    expect(Math.abs(over.rubber.areaMm2 / (4 * Math.PI * 26 ** 2) - 1)).toBeLessThan(0.01);
  });

  it('keep-clear areas carry no shell and no area', async () => {
    const ball = octasphere(20, 16);
    const clear = { name: 'key', dabsMm: [[0, 0, 40] as const], radiusMm: 10 };
    const open = await computePlan(shapePlan({ coatsMm: [3] }), ball, { resolution: 1.5, until: 'amounts' });
    const plan = shapePlan({ coatsMm: [3], scan: { keepClear: [clear] } });
    const less = await computePlan(plan, ball, { resolution: 1.5, until: 'amounts' });
    // A ball of radius a about a point of the sphere takes exactly pi a^2 of it (Archimedes), and that share of the shell.
    const share = (Math.PI * 100) / (4 * Math.PI * 400);
    expect(Math.abs(1 - less.rubber.areaMm2 / open.rubber.areaMm2 - share)).toBeLessThan(1e-3);
    expect(Math.abs(1 - less.shell.volumeMm3 / open.shell.volumeMm3 - share)).toBeLessThan(4e-3);
  });
});

describe('a brush stroke kept clear', () => {
  const r = 8;
  const apart = 4;
  const dabs = Array.from({ length: 11 }, (_, n) => [apart * n - 20, 0, 20] as const);
  const block = moved(box(80, 60, 20), [-40, -30, 0]);
  const planClear = (dabsMm: readonly (readonly [number, number, number])[]) =>
    computePlan(
      shapePlan({ coatsMm: [3], scan: { keepClear: [{ name: 'key', radiusMm: r, dabsMm }] } }),
      block,
      {
        resolution: 1,
        until: 'amounts',
      },
    );

  it('takes the union of its dabs: overlaps once', async () => {
    const open = await planShape(block, { coatsMm: [3] }, { resolution: 1 });
    const less = await planClear(dabs);
    // Union of a chain of equal discs: n discs less n - 1 lenses (own arithmetic; discs two apart meet within the one between).
    const lens = 2 * r * r * Math.acos(apart / (2 * r)) - (apart / 2) * Math.sqrt(4 * r * r - apart * apart);
    const union = dabs.length * Math.PI * r * r - (dabs.length - 1) * lens;
    // The top is two triangles, each divided down to 1/4096 along the border: sixty cells across the stroke.
    expect(Math.abs(open.rubber.areaMm2 - less.rubber.areaMm2 - union) / union).toBeLessThan(3e-3);
    // On a flat a coat is area times thickness.
    expect(Math.abs(open.shell.volumeMm3 - less.shell.volumeMm3 - 3 * union) / (3 * union)).toBeLessThan(
      5e-3,
    );
  });

  it('a dab laid twice is as if laid once', async () => {
    const once = await planClear([dabs[3]]);
    const twice = await planClear([dabs[3], dabs[3], dabs[3]]);
    expect(twice.rubber.areaMm2).toBeCloseTo(once.rubber.areaMm2, 9);
    expect(twice.shell.volumeMm3).toBeCloseTo(once.shell.volumeMm3, 9);
  });
});

describe('on the way', () => {
  it('progress never falls back and ends at 1; rough numbers come before fine ones, undercuts after both', async () => {
    const told: number[] = [];
    const order: string[] = [];
    let rough: PlanRun | undefined;
    const run = await runPlan(parted(), octasphere(30, 24), {
      resolution: 0.8,
      progress: (fraction) => {
        told.push(fraction);
        if (fraction === 1) order.push('end');
      },
      onEarlier: (found) => {
        rough ??= found;
        order.push(found.result.preliminary ? 'rough' : found.undercut ? 'undercuts' : 'fine');
      },
    });
    expect(told.length).toBeGreaterThan(3);
    for (let n = 1; n < told.length; n++) expect(told[n]).toBeGreaterThanOrEqual(told[n - 1]);
    expect(told[told.length - 1]).toBe(1);
    expect(order).toEqual(['rough', 'fine', 'undercuts', 'end']);
    for (const { undercut } of run.result.pieces) expect(undercut?.pulls).not.toBeNull();
    expect(rough?.result.preliminary).toBe(true);
    expect(rough?.result.resolutionMm).toBe(1.6);
    // Rough and fine speak of one truth.
    const [a, b] = [rough?.result.shell ?? run.result.shell, run.result.shell];
    expect(Math.abs(a.volumeMm3 - b.volumeMm3)).toBeLessThanOrEqual(a.volumeErrorMm3 + b.volumeErrorMm3);
  });

  it.each([0.1, 0.3, 0.6, 0.95])(
    'a cancel at %f rejects with AbortError and leaves the cache usable',
    async (at) => {
      const cache = new StepCache();
      const abort = new AbortController();
      const stopped = runPlan(parted(), MESH, {
        resolution: 1,
        cache,
        signal: abort.signal,
        progress: (fraction) => {
          if (fraction >= at) abort.abort();
        },
      });
      await expect(stopped).rejects.toMatchObject({ name: 'AbortError' });
      const again = await computePlan(parted(), MESH, { resolution: 1, cache });
      const fresh = await computePlan(parted(), MESH, { resolution: 1 });
      expect({ ...again, timesMs: null }).toEqual({ ...fresh, timesMs: null });
    },
  );

  it('a changed coat uses the field as it stands and asks for no rough answer; a moved line keeps it too', async () => {
    const cache = new StepCache();
    const first = await runPlan(parted([2, 3]), MESH, { resolution: 1.5, cache });
    let wasEarlier = false;
    const onEarlier = (): void => {
      wasEarlier = true;
    };
    const coat = await runPlan(parted([2, 3.2]), MESH, { resolution: 1.5, cache, onEarlier });
    expect(coat.field.grid).toBe(first.field.grid);
    expect(coat.field.tables).toBe(first.field.tables);
    expect(coat.scan).toBe(first.scan);
    // The undercuts stand as well: the shell reaches no farther into its neighbours' way.
    expect(wasEarlier).toBe(false);
    const fresh = await computePlan(parted([2, 3.2]), MESH, { resolution: 1.5 });
    expect(Math.abs(coat.result.shell.volumeMm3 / fresh.shell.volumeMm3 - 1)).toBeLessThan(ROUNDING_SHARE);

    const base = parted();
    const turned = { ...base, parting: { ...base.parting, pullAzimuthsDeg: [75] } };
    const moved = await runPlan(turned, MESH, { resolution: 1.5, cache });
    expect(moved.field.grid).toBe(first.field.grid);
    expect(moved.parting).not.toBe(first.parting);
    const other = await runPlan({ ...base, scan: { ...base.scan, scale: 1.1 } }, MESH, {
      resolution: 1.5,
      cache,
    });
    expect(other.field.grid).not.toBe(first.field.grid);
  });
});

describe('plans that cannot be', () => {
  const good = parted();
  it.each<[string, unknown, string]>([
    ['no coats', { ...good, coats: [] }, 'coats'],
    ['a coat of nothing', { ...good, coats: [{ ...good.coats[0], thicknessMm: 0 }] }, 'coats'],
    ['NaN for a thickness', { ...good, coats: [{ ...good.coats[0], thicknessMm: Number.NaN }] }, 'coats'],
    ['an unknown unit', { ...good, scan: { ...good.scan, unit: 'ell' } }, 'scan'],
    ['a resolution of nothing', { ...good, resolutionMm: 0 }, 'resolutionMm'],
    ['a misspelt key', { ...good, coast: [] }, 'coast'],
  ])('%s: PlanError that names the key', async (_name, plan, field) => {
    const refused = computePlan(plan as PlanDocument, MESH);
    await expect(refused).rejects.toBeInstanceOf(PlanError);
    await expect(refused).rejects.toMatchObject({ field: expect.stringContaining(field) });
  });

  it.each([0, -1, Number.NaN, Infinity])(
    'a resolution of %f in the options is refused',
    async (resolution) => {
      const refused = computePlan(good, MESH, { resolution });
      await expect(refused).rejects.toMatchObject({ name: 'PlanError', field: 'resolutionMm' });
    },
  );

  it('a resolution too fine to be held is refused with one that can', async () => {
    const refused = computePlan(good, box(900, 900, 900), { resolution: 0.05 });
    await expect(refused).rejects.toMatchObject({
      name: 'PlanError',
      code: 'too-fine',
      field: 'resolutionMm',
    });
  });

  it('new lines on a large scan have their amounts told before casting and thin spots', async () => {
    const cache = new StepCache();
    const mesh = octasphere(30, 125);
    const options = { resolution: 2, cache, until: 'undercuts' } as const;
    await runPlan(parted(), mesh, options);
    const told: PlanRun[] = [];
    const base = parted();
    const { result } = await runPlan({ ...base, parting: { ...base.parting, pullAzimuthsDeg: [80] } }, mesh, {
      ...options,
      onEarlier: (run) => {
        told.push(run);
      },
    });
    const [amounts, most] = told.map((run) => run.result);
    expect(amounts.pieces.map((piece) => piece.massG)).toEqual(result.pieces.map((piece) => piece.massG));
    expect([amounts.casting, amounts.pieces[0].thin]).toEqual([null, null]);
    expect(most.casting).toEqual(result.casting);
    expect(most.casting).not.toBeNull();
    expect(told.map(({ depth }) => depth)).toEqual(['amounts', 'most']);
  });

  it('says so where cells are too coarse for what they measure, and only there', async () => {
    const codes = async (resolution: number): Promise<string[]> => {
      const { scan } = await computePlan(newPlan('ball.stl'), octasphere(40, 12), {
        resolution,
        until: 'amounts',
      });
      return scan.warnings.map(({ code }) => code);
    };
    expect(await codes(30)).toContain('cells-too-coarse');
    expect(await codes(1)).not.toContain('cells-too-coarse');
  });
});
