import { decode } from 'fast-png';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { JobTable } from '../../src/jobs/JobTable.ts';
import type { JobInput, ToPage } from '../../src/jobs/messages.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

const RADIUS = 25;
const STL = writeStl(openHalfSphere(RADIUS, 10)).buffer;
const plan = (coatsMm: readonly number[] = [2, 3]): PlanDocument => ({
  ...shapePlan({ coatsMm, scan: { board: 0 }, parting: { pieceCount: 2, pullAzimuthsDeg: [30] } }),
  resolutionMm: 1.5,
});
const OVER: Vec3[] = [
  [RADIUS, 0.1, 0],
  [0.1, 0.2, RADIUS],
  [-RADIUS, 0.3, 0],
];

describe('JobTable', () => {
  let told: ToPage[];
  let table: JobTable;
  let onMessage: (message: ToPage) => void;
  let nextId: number;
  beforeEach(() => {
    told = [];
    nextId = 1;
    onMessage = () => {};
    table = new JobTable((message) => {
      told.push(message);
      onMessage(message);
    });
  });

  const give = (input: JobInput): number => {
    table.receive({ kind: 'job', id: nextId, input });
    return nextId++;
  };
  /** The last message of a job, once it has come. */
  const ended = async (id: number): Promise<ToPage> => {
    for (;;) {
      const last = told.find((m) => m.id === id && (m.kind === 'done' || m.kind === 'failed'));
      if (last) return last;
      await new Promise((resolve) => setTimeout(resolve, 1));
    }
  };
  const open = (): Promise<ToPage> => ended(give({ kind: 'open', name: 'half.stl', bytes: STL }));

  it('opens a file and tells what it is', async () => {
    const done = await open();
    expect(done).toMatchObject({
      kind: 'done',
      output: { kind: 'opened', scan: { name: 'half.stl', triangles: 400 } },
    });
    const size = done.kind === 'done' && done.output.kind === 'opened' ? done.output.scan.size : [0, 0, 0];
    expect(size[0]).toBeCloseTo(2 * RADIUS, 4);
    expect(size[2]).toBeCloseTo(RADIUS, 4);
  });

  it('plans: progress, estimates of the whole and of its pieces, a quick answer, a final one, in this order; the rubber is sent once', async () => {
    await open();
    const id = give({ kind: 'plan', plan: plan(), revision: 7 });
    expect(await ended(id)).toMatchObject({ kind: 'done', output: { kind: 'planned' } });
    const all = told.flatMap((m) => (m.kind === 'answer' && m.id === id ? [m.answer] : []));
    expect(all.every((answer) => answer.revision === 7)).toBe(true);
    expect(all.filter((answer) => answer.isRough).map((answer) => answer.geometry !== null)).toEqual([
      true,
      true,
    ]);
    // The quick answer's numbers stand on the estimate's picture, and its shell is passed over for that of the fine ones.
    const quick = all.filter((answer) => !answer.isRough && !answer.isFinal);
    expect(quick.map((answer) => answer.geometry)).toEqual([null]);
    const answers = all.filter((answer) => answer.geometry !== null);
    expect(answers.map((answer) => answer.isFinal)).toEqual([false, false, true, true]);
    const [undivided, first, , last] = answers.map((answer) => answer.geometry);
    expect(undivided?.pieces).toEqual([]);
    expect(undivided?.rubber?.indices).toHaveLength(3 * 400);
    expect(first?.pieces.map((piece) => piece.shell)).toEqual([null, null]);
    // The estimate's pieces are the ones that stay: the page builds nothing twice.
    expect(first?.pieces.map((piece) => piece.rubber.key)).toEqual(
      last?.pieces.map((piece) => piece.rubber.key),
    );
    expect(first?.rubber).toBeNull();
    expect(last?.rubber).toBeNull();
    expect(last?.pieces.map((piece) => piece.id)).toEqual(answers[3].result.pieces.map((piece) => piece.id));
    for (const piece of last?.pieces ?? []) {
      expect(piece.rubber.indices.length).toBeGreaterThan(0);
      expect(piece.shell?.indices.length).toBeGreaterThan(0);
      expect(piece.shell?.positions.every(Number.isFinite)).toBe(true);
    }
    expect(last?.lines).toHaveLength(1);
    const progress = told.flatMap((m) => (m.kind === 'progress' && m.id === id ? [m.fraction] : []));
    expect(progress.at(-1)).toBe(1);
  });

  it('a changed coat has its numbers at once, before the picture', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const id = give({ kind: 'plan', plan: plan([2, 3.5]), revision: 2 });
    await ended(id);
    const answers = told.flatMap((m) => (m.kind === 'answer' && m.id === id ? [m.answer] : []));
    expect(answers.map((answer) => answer.geometry === null)).toEqual([true, false]);
    expect(answers[0].result.shell).toEqual(answers[1].result.shell);
    expect(answers[0].result.shell.thicknessMm).toBe(5.5);
  });

  it('a path follows the surface between its points', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const done = await ended(give({ kind: 'path', points: OVER, closed: false }));
    const line = done.kind === 'done' && done.output.kind === 'path' ? done.output.line : undefined;
    const path = line?.path ?? new Float32Array();
    expect(path.length).toBeGreaterThan(9);
    for (let n = 0; n < path.length; n += 3) {
      const r = Math.hypot(path[n], path[n + 1], path[n + 2]);
      // Faces of a tenth of a right angle, or sqrt 2 of it: sagitta under 1 %.
      expect(r).toBeGreaterThan(0.985 * RADIUS);
      expect(r).toBeLessThan(1.0001 * RADIUS);
    }
  });

  it('the whole answer brings what locks and what touches; a half sphere pulled sideways locks nowhere', async () => {
    await open();
    const id = give({ kind: 'plan', plan: plan(), revision: 1 });
    await ended(id);
    const last = told.findLast((m) => m.kind === 'answer' && m.id === id);
    const answer = last?.kind === 'answer' ? last.answer : undefined;
    for (const [i, piece] of (answer?.result.pieces ?? []).entries()) {
      // A facet (a tenth of a right angle, or sqrt 2 of it) on the silhouette leans away by half of that: 5.5 sin 6.4 deg.
      expect(piece.undercut?.maxDepthMm).toBeLessThan(0.6);
      expect(piece.undercut?.pulls?.present.pull).toEqual(piece.pull);
      const drawn = answer?.geometry?.pieces[i];
      expect(drawn?.undercut?.depthMm).toHaveLength((drawn?.rubber.positions.length ?? 0) / 3);
      expect(drawn?.touch?.fromMm).toHaveLength((drawn?.shell?.positions.length ?? 0) / 3);
    }
    expect(answer?.result.removal?.locked).toEqual([]);
  });

  it('a chart of the whole mould is told for every direction', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const done = await ended(give({ kind: 'chart', of: 'mould' }));
    const chart = done.kind === 'done' && done.output.kind === 'chart' ? done.output.chart : undefined;
    const count = (chart?.directions.length ?? 0) / 3;
    expect(count).toBeGreaterThan(100);
    expect(chart?.depthMm).toHaveLength(count);
    // A half sphere on its board is free straight up alone (with nothing below), and for every pair sideways.
    const up = Array.from({ length: count }, (_, i) => i).find(
      (i) => (chart?.directions[3 * i + 2] ?? 0) > 0.999,
    );
    expect(chart?.depthMm[up ?? 0]).toBeLessThan(0.05 * RADIUS);
  });

  it('maps: draft, thickness and distance lie on the corners of the pieces, with the revision they are of', async () => {
    await open();
    expect(await ended(give({ kind: 'map', ask: { of: 'draft', coat: null } }))).toMatchObject({
      kind: 'failed',
    });
    const id = give({ kind: 'plan', plan: plan(), revision: 5 });
    await ended(id);
    const last = told.findLast((m) => m.kind === 'answer' && m.id === id);
    const drawn = last?.kind === 'answer' ? (last.answer.geometry?.pieces ?? []) : [];
    const map = async (of: 'thickness' | 'undercut' | 'draft' | 'distance', coat: number | null = null) => {
      const done = await ended(give({ kind: 'map', ask: { of, coat } }));
      if (done.kind !== 'done' || done.output.kind !== 'map') throw new Error('no map came');
      const { picture } = done.output;
      expect(picture).toMatchObject({ revision: 5, of, coat });
      picture.pieces.forEach(({ corners, tris }, i) => {
        expect(corners).toHaveLength(drawn[i].rubber.indices.length);
        expect(3 * tris.length).toBe(corners.length);
      });
      return picture;
    };
    const draft = await map('draft');
    // Pulled level, a half sphere has every draft from nought to square; a facet leans by half of a tenth of a right angle.
    expect(Math.abs(draft.spread?.least ?? 90)).toBeLessThan(13);
    expect(draft.spread?.most).toBeGreaterThan(84);
    // h + h^2 / R + h^3 / (3 R^2) = laid, spread over a sphere of R: own arithmetic, 10 % for facets and curvature at a scale.
    const over = (laid: number) => {
      let h = laid;
      for (let i = 0; i < 50; i++) h = laid - (h * h) / RADIUS - h ** 3 / (3 * RADIUS * RADIUS);
      return h;
    };
    const all = await map('thickness');
    const first = await map('thickness', 0);
    const middle = ({ spread }: typeof all) => ((spread?.low ?? 0) + (spread?.high ?? 0)) / 2;
    expect(Math.abs(middle(all) - over(5))).toBeLessThan(0.5);
    expect(Math.abs(middle(first) - over(2))).toBeLessThan(0.2);
    const distance = await map('distance');
    expect(distance.spread).toMatchObject({ least: 0, most: 0 });
    const undercut = await map('undercut');
    expect(undercut.spread?.least).toBe(0);
    expect(undercut.spread?.most).toBeLessThan(0.6);
  });

  it('snaps to the board, smooths between the same ends', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const near: Vec3 = [RADIUS * Math.cos(0.05), 0, RADIUS * Math.sin(0.05)];
    const done = await ended(give({ kind: 'snap', point: near, to: ['board'], reachMm: RADIUS / 4 }));
    const snapped = done.kind === 'done' && done.output.kind === 'snap' ? done.output.snapped : undefined;
    expect(snapped?.to).toBe('board');
    expect(snapped?.point[2]).toBeCloseTo(0, 9);
    const smoothed = await ended(give({ kind: 'smooth', points: OVER, closed: false }));
    const points =
      smoothed.kind === 'done' && smoothed.output.kind === 'smooth' ? smoothed.output.points : [];
    expect(points.length).toBeGreaterThanOrEqual(2);
    for (const [end, given] of [
      [points[0], OVER[0]],
      [points[points.length - 1], OVER[OVER.length - 1]],
    ]) {
      expect(Math.hypot(end[0] - given[0], end[1] - given[1], end[2] - given[2])).toBeLessThan(0.02 * RADIUS);
    }
  });

  it('suggests as the search goes on, and a plan that takes one is planned along it', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const id = give({ kind: 'suggest', plan: plan(), pieceCounts: [2] });
    expect(await ended(id)).toMatchObject({ kind: 'done', output: { kind: 'suggested' } });
    const lists = told.flatMap((m) => (m.kind === 'suggestions' && m.id === id ? [m.suggestions] : []));
    const [best] = lists[lists.length - 1];
    expect(best.rank).toBe(1);
    expect(best.maxDepthMm).toBeLessThan(0.05 * RADIUS);
    const base = plan();
    const taken = {
      ...base,
      parting: { ...base.parting, lines: best.lines, pieces: best.planPieces },
    };
    const planned = give({ kind: 'plan', plan: taken, revision: 2 });
    await ended(planned);
    const last = told.findLast((m) => m.kind === 'answer' && m.id === planned);
    const result = last?.kind === 'answer' ? last.answer.result : undefined;
    expect(result?.pieces).toHaveLength(2);
    for (const [i, piece] of (result?.pieces ?? []).entries()) {
      const own = best.pieces.find(({ pull }) => pull.every((x, k) => Math.abs(x - piece.pull[k]) < 1e-6));
      expect(own, `piece ${i} pulls as suggested`).toBeDefined();
      expect(Math.abs((own?.areaMm2 ?? 0) / piece.areaMm2 - 1)).toBeLessThan(0.03);
    }
  });

  it('a section shows rubber, coats and pieces', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const done = await ended(give({ kind: 'section', plane: { normal: [0, 0, 1], offsetMm: 8 } }));
    const picture = done.kind === 'done' && done.output.kind === 'section' ? done.output.picture : undefined;
    const kinds = picture?.areas.map((area) => `${area.coat} ${area.piece}`).sort();
    expect(kinds).toEqual(['-1 -1', '0 0', '0 1', '1 0', '1 1']);
    const areaMm2 = (rings: readonly Float32Array[]): number =>
      Math.abs(
        rings.reduce((sum, ring) => {
          let twice = 0;
          for (let n = 0; n < ring.length; n += 2) {
            const m = (n + 2) % ring.length;
            twice += ring[n] * ring[m + 1] - ring[m] * ring[n + 1];
          }
          return sum + twice / 2;
        }, 0),
      );
    const rubber = picture?.areas.find((area) => area.coat === -1);
    // Circle of a sphere at height 8; outlines are good to a fraction of a cell of 1.5 mm.
    const r = Math.sqrt(RADIUS ** 2 - 64);
    expect(Math.sqrt(areaMm2(rubber?.rings ?? []) / Math.PI)).toBeGreaterThan(r - 0.5);
    expect(Math.sqrt(areaMm2(rubber?.rings ?? []) / Math.PI)).toBeLessThan(r + 0.5);
  });

  it('a bad file is named, and the scan that was open stays', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    const bad = await ended(
      give({ kind: 'open', name: 'cat.stl', bytes: new Uint8Array([0x89, 0x50, 0x4e, 0x47, 1, 2]).buffer }),
    );
    expect(bad).toMatchObject({ kind: 'failed', failure: { kind: 'mesh' } });
    expect(bad.kind === 'failed' && bad.failure.message).toContain('byte 6');
    expect(await ended(give({ kind: 'plan', plan: plan(), revision: 2 }))).toMatchObject({ kind: 'done' });
    expect(await ended(give({ kind: 'path', points: OVER, closed: false }))).toMatchObject({ kind: 'done' });
  });

  it('says what is missing before a scan is open or planned', async () => {
    const early = await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
    expect(early).toMatchObject({ kind: 'failed', failure: { kind: 'plan' } });
    await open();
    const path = await ended(give({ kind: 'path', points: OVER, closed: false }));
    expect(path).toMatchObject({ kind: 'failed', failure: { kind: 'plan' } });
  });

  it('a wrong plan fails with its words and hurts nothing', async () => {
    await open();
    const wrong = await ended(give({ kind: 'plan', plan: { ...plan(), coats: [] }, revision: 1 }));
    expect(wrong).toMatchObject({ kind: 'failed', failure: { kind: 'plan', code: 'bad-plan' } });
    expect(await ended(give({ kind: 'plan', plan: plan(), revision: 2 }))).toMatchObject({ kind: 'done' });
  });

  it('no memory left in the middle of a plan is told as that, and hurts nothing: the next plan has its answer', async () => {
    await open();
    const coarse = { ...plan(), resolutionMm: 4 };
    const Real = Float64Array;
    let isShort = false;
    // The engine itself refuses: the first large array after the estimate is asked for as more than any machine has.
    class Short extends Real {
      constructor(...args: unknown[]) {
        const [length] = args;
        const isRefused = isShort && typeof length === 'number' && length > 500;
        super(...((isRefused ? [2 ** 50] : args) as [number]));
      }
    }
    vi.stubGlobal('Float64Array', Short);
    try {
      onMessage = (message) => {
        if (message.kind === 'answer') isShort = true;
      };
      const failed = await ended(give({ kind: 'plan', plan: coarse, revision: 1 }));
      expect(failed).toMatchObject({ kind: 'failed', failure: { kind: 'out-of-memory' } });
      expect(failed.kind === 'failed' && failed.failure.message).toMatch(/more memory.*coarser resolution/);
    } finally {
      vi.unstubAllGlobals();
    }
    expect(await ended(give({ kind: 'plan', plan: coarse, revision: 2 }))).toMatchObject({ kind: 'done' });
  });

  it('a cancelled job ends without a word, one that has not begun is passed over, and the next one runs', async () => {
    await open();
    const first = give({ kind: 'plan', plan: plan(), revision: 1 });
    const second = give({ kind: 'plan', plan: plan([4]), revision: 2 });
    table.receive({ kind: 'cancel', id: second });
    onMessage = (message) => {
      if (message.kind === 'progress' && message.id === first && message.fraction > 0.1)
        table.receive({ kind: 'cancel', id: first });
    };
    const third = give({ kind: 'plan', plan: plan([3]), revision: 3 });
    expect(await ended(third)).toMatchObject({ kind: 'done' });
    await table.idle();
    expect(told.filter((m) => m.id === first && m.kind !== 'progress')).toEqual([]);
    expect(told.filter((m) => m.id === second)).toEqual([]);
    // A cancel for what is long over changes nothing.
    table.receive({ kind: 'cancel', id: third });
  });

  it('a section of the next scan under the same plan is the next scan’s own', async () => {
    const cut = async (): Promise<unknown> => {
      await ended(give({ kind: 'plan', plan: plan(), revision: 1 }));
      const done = await ended(give({ kind: 'section', plane: { normal: [0, 1, 0], offsetMm: 0.3 } }));
      return done.kind === 'done' && done.output.kind === 'section' ? done.output.picture.areas : null;
    };
    const other = writeStl(openHalfSphere(RADIUS - 4, 10)).buffer;
    const openOther = (): Promise<ToPage> => ended(give({ kind: 'open', name: 'other.stl', bytes: other }));
    await open();
    await cut();
    await openOther();
    const afterAnother = await cut();
    table = new JobTable((message) => told.push(message));
    await openOther();
    expect(afterAnother).not.toBeNull();
    expect(afterAnother).toEqual(await cut());
  });

  it('draws the standing plan from its four sides, and says which revision they show', async () => {
    await open();
    await ended(give({ kind: 'plan', plan: plan(), revision: 12 }));
    const done = await ended(give({ kind: 'sides', widthPx: 120 }));
    const drawn = done.kind === 'done' && done.output.kind === 'sides' ? done.output.drawn : undefined;
    expect(drawn?.revision).toBe(12);
    expect(drawn?.pictures.map((picture) => picture.side)).toEqual(['front', 'right', 'back', 'left']);
    for (const { png, widthPx, heightPx, mmPerPx, labels } of drawn?.pictures ?? []) {
      expect(decode(png)).toMatchObject({ width: widthPx, height: heightPx, channels: 3 });
      // The ball across, with the margins of a twenty-fifth on either side.
      expect(mmPerPx).toBeCloseTo((2 * RADIUS) / (120 - 2 * Math.ceil(0.04 * 120)), 1);
      expect(labels.some((label) => label.kind === 'piece')).toBe(true);
    }
  });

  it('has no sides to draw before there is a plan', async () => {
    await open();
    expect(await ended(give({ kind: 'sides', widthPx: 120 }))).toMatchObject({
      kind: 'failed',
      failure: { kind: 'plan', code: 'bad-plan' },
    });
  });
});
