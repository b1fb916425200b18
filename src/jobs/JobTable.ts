import { Checkpoint } from '../core/checkpoint.ts';
import { type PlanRun, type RoughRun, runPlan } from '../core/computePlan.ts';
import { PlanError } from '../core/errors.ts';
import { sideOfPieces } from '../core/field/sideOfPieces.ts';
import type { SlabRunner } from '../core/field/slabs/SlabRunner.ts';
import { PullJudge } from '../core/judgePulls.ts';
import { boundingBox, type TriMesh, triCount, type Vec3, vertCount } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { smoothLine } from '../core/parting/draw/smoothLine.ts';
import { snapPoint } from '../core/parting/draw/snapPoint.ts';
import { joinAlongSurface } from '../core/parting/joinAlongSurface.ts';
import { regionAt } from '../core/parting/regionAt.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import { suggestPartings } from '../core/parting/suggest/suggestPartings.ts';
import type { SurfacePath } from '../core/parting/types.ts';
import { drawSides } from '../core/picture/drawSides.ts';
import { printSide } from '../core/picture/printSide.ts';
import { sideSubject } from '../core/picture/sideSubject.ts';
import { ballsOf } from '../core/plan/ballsOf.ts';
import type { LengthUnit } from '../core/plan/PlanDocument.ts';
import { StepCache } from '../core/StepCache.ts';
import { cutSection } from '../core/shell/cutSection.ts';
import { openMesh } from '../io/openMesh.ts';
import { readPlanBundle } from '../io/readPlanBundle.ts';
import { writePlanBundle } from '../io/writePlanBundle.ts';
import { describeFailure } from './describeFailure.ts';
import { drawMap } from './drawMap.ts';
import { drawPlan } from './drawPlan.ts';
import { drawRough } from './drawRough.ts';
import type { JobInput, JobOutput, ToPage, ToWorker } from './messages.ts';

/** Questions about the standing plan, and what needs none: they wait for nothing, and run when a long job pauses. */
const ASIDE: ReadonlySet<JobInput['kind']> = new Set([
  'path',
  'section',
  'snap',
  'smooth',
  'chart',
  'suggest',
  'map',
  'sides',
  'bundle',
  'unbundle',
]);

interface OpenScan {
  readonly mesh: TriMesh;
  readonly notes: readonly ScanNote[];
  readonly unit: LengthUnit | undefined;
  readonly readMs: number;
  readonly cache: StepCache;
}

/**
 * Runs the long jobs (open, plan) one after another in the order they came; a cancelled one that has not begun is passed
 * over. Holds the open scan and what was computed of it.
 */
export class JobTable {
  private readonly aborts = new Map<number, AbortController>();
  private queue: Promise<void> = Promise.resolve();
  private scan: OpenScan | undefined;
  private run: PlanRun | undefined;
  /** Of the plan that gave `run`. */
  private revision = 0;
  private rubberSentFor: unknown;
  /** What the page has pieces of; and what it has their shell of. */
  private drawnParting: unknown;
  private drawnShell: unknown;
  /** Which side of the lines each cell lies on, kept while a section is moved. */
  private readonly sections = new StepCache(1);

  /** @param slabs hands for large fields, if there are any. */
  constructor(
    private readonly send: (message: ToPage) => void,
    private readonly slabs?: SlabRunner,
  ) {}

  receive(message: ToWorker): void {
    if (message.kind === 'cancel') {
      this.aborts.get(message.id)?.abort();
      return;
    }
    const { id, input } = message;
    const abort = new AbortController();
    this.aborts.set(id, abort);
    if (ASIDE.has(input.kind)) void this.work(id, input, abort.signal);
    else this.queue = this.queue.then(() => this.work(id, input, abort.signal));
  }

  /** Settles when every job received so far has ended. */
  idle(): Promise<void> {
    return this.queue;
  }

  private async work(id: number, input: JobInput, signal: AbortSignal): Promise<void> {
    try {
      signal.throwIfAborted();
      const output = await this.perform(id, input, signal);
      this.send({ kind: 'done', id, output });
    } catch (error) {
      if (!signal.aborted) this.send({ kind: 'failed', id, failure: describeFailure(error) });
    } finally {
      this.aborts.delete(id);
    }
  }

  private async perform(id: number, input: JobInput, signal: AbortSignal): Promise<JobOutput> {
    const progress = (fraction: number, phase: string): void =>
      this.send({ kind: 'progress', id, fraction, phase });
    switch (input.kind) {
      case 'open':
        return this.open(input, new Checkpoint(progress, signal, 0, 1, 'reading the file'));
      case 'plan':
        return this.plan(id, input, progress, signal);
      case 'path': {
        const run = this.expectRun();
        const path = joinAlongSurface(
          run.surface,
          input.points,
          input.closed,
          otherLines(run, input.points),
          'kept',
        );
        return {
          kind: 'path',
          line: {
            id: '',
            closed: input.closed,
            path: Float32Array.from(path.points),
            controlPoints: Float32Array.from(input.points.flat()),
          },
        };
      }
      case 'section':
        return this.section(input, new Checkpoint(progress, signal));
      case 'snap': {
        const { surface, parting } = this.expectRun();
        const { pull } = parting.pieces[Math.max(0, regionAt(surface, parting.cut, input.point))];
        return { kind: 'snap', snapped: snapPoint(surface, input.point, input.to, input.reachMm, pull) };
      }
      case 'smooth': {
        const run = this.expectRun();
        const others = otherLines(run, input.points);
        return { kind: 'smooth', points: smoothLine(run.surface, input.points, input.closed, others) };
      }
      case 'chart': {
        const run = this.expectRun();
        const judge = new PullJudge('last', run.plan, run.grounds.filled, this.expectScan().cache);
        return { kind: 'chart', chart: await judge.chart(input.of, new Checkpoint(progress, signal)) };
      }
      case 'suggest':
        return this.suggest(id, input, progress, signal);
      case 'map': {
        const run = this.expectRun();
        const { revision } = this;
        const { mesh, cache } = this.expectScan();
        const cp = new Checkpoint(progress, signal);
        return { kind: 'map', picture: await drawMap(run, mesh, input.ask, revision, cache, cp) };
      }
      case 'sides': {
        const run = this.expectRun();
        const { revision } = this;
        const cp = new Checkpoint(progress, signal);
        return {
          kind: 'sides',
          drawn: {
            revision,
            pictures: (await drawSides(sideSubject(run), input.widthPx, cp)).map(printSide),
          },
        };
      }
      case 'bundle':
        return { kind: 'bundle', bytes: writePlanBundle(input.parts) };
      case 'unbundle': {
        const cp = new Checkpoint(progress, signal, 0, 1, 'reading the file');
        return { kind: 'unbundle', parts: await readPlanBundle(input.bytes, input.name, cp) };
      }
    }
  }

  /** Replaces the open scan only when the new file could be read. */
  private async open(input: Extract<JobInput, { kind: 'open' }>, cp: Checkpoint): Promise<JobOutput> {
    const from = performance.now();
    const { mesh, notes, unit } = await openMesh(input.bytes, input.name, cp);
    this.scan = { mesh, notes, unit, readMs: performance.now() - from, cache: new StepCache() };
    this.run = undefined;
    this.sections.clear();
    this.rubberSentFor = undefined;
    this.drawnParting = undefined;
    this.drawnShell = undefined;
    const { min, max } = boundingBox(mesh);
    return {
      kind: 'opened',
      scan: {
        name: input.name,
        triangles: triCount(mesh),
        vertices: vertCount(mesh),
        size: [max[0] - min[0], max[1] - min[1], max[2] - min[2]],
        notes,
      },
    };
  }

  private async plan(
    id: number,
    input: Extract<JobInput, { kind: 'plan' }>,
    progress: (fraction: number, phase: string) => void,
    signal: AbortSignal,
  ): Promise<JobOutput> {
    const scan = this.expectScan();
    const { revision } = input;
    const estimate = async (rough: RoughRun): Promise<void> => {
      const geometry = await drawRough(rough, rough.scan !== this.rubberSentFor, scan.cache);
      this.rubberSentFor = rough.scan;
      this.drawnParting = rough.isUndivided ? undefined : rough.parting;
      this.drawnShell = undefined;
      const { result } = rough;
      this.send({
        kind: 'answer',
        id,
        answer: { revision, result, geometry, isFinal: false, isRough: true },
      });
    };
    const answer = async (run: PlanRun, isLast: boolean): Promise<void> => {
      this.run = run;
      this.revision = revision;
      const { result } = run;
      // Amounts alone are not the whole: a list to buy by, or a caution, may come with the casting.
      const isFinal = !result.preliminary && run.depth !== 'amounts';
      // Numbers come at once, over the pieces as they are drawn already or without their shell, which takes longer.
      const isDrawn = run.parting === this.drawnParting;
      const bare = isDrawn ? null : await drawRough(run, run.scan !== this.rubberSentFor, scan.cache);
      this.send({ kind: 'answer', id, answer: { revision, result, geometry: bare, isFinal } });
      this.rubberSentFor = run.scan;
      this.drawnParting = run.parting;
      // A shell that is drawn stays until the whole answer stands; that of the rough numbers is passed over.
      if (!isLast && (result.preliminary || run.parting === this.drawnShell)) return;
      const geometry = await drawPlan(run, input.plan, false, scan.cache, new Checkpoint(() => {}, signal), {
        locked: run.undercut,
        filler: run.grounds.filler?.blockOut.filler ?? null,
      });
      this.drawnShell = run.parting;
      this.send({ kind: 'answer', id, answer: { revision, result, geometry, isFinal } });
    };
    const run = await runPlan(input.plan, scan.mesh, {
      fileNotes: scan.notes,
      ...(scan.unit && { fileUnit: scan.unit }),
      readMs: scan.readMs,
      cache: scan.cache,
      ...(this.slabs && { slabs: this.slabs }),
      progress,
      signal,
      onRough: estimate,
      onEarlier: (rough) => answer(rough, false),
    });
    await answer(run, true);
    return { kind: 'planned' };
  }

  private async suggest(
    id: number,
    input: Extract<JobInput, { kind: 'suggest' }>,
    progress: (fraction: number, phase: string) => void,
    signal: AbortSignal,
  ): Promise<JobOutput> {
    // Lines are laid on the rubber as it was scanned: filler is for the lines that are there.
    const { scan, surface } = this.expectRun().grounds.bare;
    const tell = (suggestions: readonly Suggestion[]): void =>
      this.send({ kind: 'suggestions', id, suggestions });
    tell(
      await suggestPartings(
        scan,
        surface,
        input.plan,
        input.pieceCounts,
        new Checkpoint(progress, signal),
        tell,
      ),
    );
    return { kind: 'suggested' };
  }

  private async section(input: Extract<JobInput, { kind: 'section' }>, cp: Checkpoint): Promise<JobOutput> {
    const run = this.expectRun();
    const { grid } = run.field;
    const { plan } = run;
    const side = await this.sections.remember('sides', run.piecesKey, () =>
      sideOfPieces(
        grid,
        run.source,
        run.parting.cut,
        ballsOf(plan.scan.keepClear),
        cp.within(0, 0.5, 'cutting the section'),
      ),
    );
    const picture = await cutSection(
      grid,
      run.source,
      side,
      plan,
      run.parting.cut.regionCount,
      input.plane,
      cp.within(0.5, 1, 'cutting the section'),
    );
    return { kind: 'section', picture: { plane: input.plane, ...picture } };
  }

  private expectScan(): OpenScan {
    if (!this.scan) throw new PlanError('bad-plan', 'No scan is open. Open one first.');
    return this.scan;
  }

  private expectRun(): PlanRun {
    if (!this.run)
      throw new PlanError(
        'bad-plan',
        'The scan has not been planned yet. Wait for the first numbers, then try again.',
      );
    return this.run;
  }
}

/** The user's lines that a line through these points may end on: all but the one that is being changed. */
function otherLines(run: PlanRun, points: readonly Vec3[]): SurfacePath[] {
  if (run.plan.parting.lines === 'auto') return [];
  const isShared = (point: Vec3): boolean => points.some((p) => p.every((x, k) => x === point[k]));
  return run.parting.paths.filter((_, n) => !run.parting.lines[n].points.some(isShared));
}
