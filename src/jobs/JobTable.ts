import { Checkpoint } from '../core/checkpoint.ts';
import { type PlanRun, runPlan } from '../core/computePlan.ts';
import { MeshError, PlanError } from '../core/errors.ts';
import { sideOfPieces } from '../core/field/sideOfPieces.ts';
import { boundingBox, type TriMesh, triCount, type Vec3, vertCount } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { joinAlongSurface } from '../core/parting/joinAlongSurface.ts';
import type { SurfacePath } from '../core/parting/types.ts';
import { StepCache } from '../core/StepCache.ts';
import { cutSection } from '../core/shell/cutSection.ts';
import { openMesh } from '../io/openMesh.ts';
import { drawPlan } from './drawPlan.ts';
import type { JobInput, JobOutput, ToPage, ToWorker } from './messages.ts';
import type { JobFailure } from './protocol.ts';

interface OpenScan {
  readonly mesh: TriMesh;
  readonly notes: readonly ScanNote[];
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
  private rubberSentFor: unknown;
  private drawnParting: unknown;
  /** Which side of the lines each cell lies on, kept while a section is moved. */
  private readonly sections = new StepCache(1);

  constructor(private readonly send: (message: ToPage) => void) {}

  receive(message: ToWorker): void {
    if (message.kind === 'cancel') {
      this.aborts.get(message.id)?.abort();
      return;
    }
    const { id, input } = message;
    const abort = new AbortController();
    this.aborts.set(id, abort);
    // Questions about the standing plan are short and wait for nothing; they run when a long job pauses.
    if (input.kind === 'path' || input.kind === 'section') void this.work(id, input, abort.signal);
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
      case 'chart':
      case 'suggest':
      case 'snap':
      case 'smooth':
        throw new PlanError('bad-plan', 'Not yet.');
    }
  }

  /** Replaces the open scan only when the new file could be read. */
  private async open(input: Extract<JobInput, { kind: 'open' }>, cp: Checkpoint): Promise<JobOutput> {
    const from = performance.now();
    const { mesh, notes } = await openMesh(input.bytes, input.name, cp);
    this.scan = { mesh, notes, readMs: performance.now() - from, cache: new StepCache() };
    this.run = undefined;
    this.sections.clear();
    this.rubberSentFor = undefined;
    this.drawnParting = undefined;
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
    const { scan } = this;
    if (!scan) throw new PlanError('bad-plan', 'No scan is open. Open an STL or PLY file first.');
    const answer = async (run: PlanRun, isFinal: boolean): Promise<void> => {
      this.run = run;
      const { revision } = input;
      const { result } = run;
      // The same pieces as drawn before: a value being dragged shows its numbers at once, its shell a moment later.
      if (run.parting === this.drawnParting) {
        this.send({ kind: 'answer', id, answer: { revision, result, geometry: null, isFinal } });
      }
      const isRubberNew = run.scan !== this.rubberSentFor;
      const geometry = await drawPlan(
        run,
        input.plan,
        isRubberNew,
        scan.cache,
        new Checkpoint(() => {}, signal),
      );
      this.rubberSentFor = run.scan;
      this.drawnParting = run.parting;
      this.send({ kind: 'answer', id, answer: { revision, result, geometry, isFinal } });
    };
    const run = await runPlan(input.plan, scan.mesh, {
      fileNotes: scan.notes,
      readMs: scan.readMs,
      cache: scan.cache,
      progress,
      signal,
      onEarlier: (rough) => answer(rough, false),
    });
    await answer(run, true);
    return { kind: 'planned' };
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
        plan.scan.keepClear,
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

/** An error in words that can cross to the page. Unknown errors are defects of ours and say so. */
export function describeFailure(error: unknown): JobFailure {
  if (error instanceof MeshError) return { kind: 'mesh', code: error.code, message: error.message };
  if (error instanceof PlanError) return { kind: 'plan', code: error.code, message: error.message };
  const what = error instanceof Error ? error.message : String(error);
  return {
    kind: 'internal',
    code: 'internal',
    message: `Something went wrong inside Scute (${what}). Your plan is kept. Undo the last change, or open the file again.`,
  };
}
