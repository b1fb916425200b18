import {
  assembleResult,
  innerDistanceMm,
  outerDistanceMm,
  type TablePair,
  workTables,
} from './assembleResult.ts';
import { Checkpoint, type ProgressListener } from './checkpoint.ts';
import { compareOnGround } from './compareOnGround.ts';
import { estimateShell } from './estimateShell.ts';
import { FIELD_COARSER, type Field, FieldLadder, type Rung } from './FieldLadder.ts';
import type { BandSource } from './field/BandSource.ts';
import type { FieldJob } from './field/slabs/makeField.ts';
import { SINGLE_RUNNER, type SlabRunner } from './field/slabs/SlabRunner.ts';
import type { WorkTables } from './groundOfWork.ts';
import { PullJudge } from './judgePulls.ts';
import { type Ground, type Grounds, layGround } from './layGround.ts';
import { type Depth, isPressureKnown, measureShell } from './measureShell.ts';
import type { PreparedScan } from './mesh/PreparedScan.ts';
import { type TriMesh, triCount } from './mesh/TriMesh.ts';
import type { PlanResult, ScanNote } from './PlanResult.ts';
import type { PartingWall } from './parting/buildWall.ts';
import type { PartingStep } from './parting/planParting.ts';
import type { SurfaceContext } from './parting/SurfaceContext.ts';
import type { UndercutStep } from './parting/undercut/UndercutStep.ts';
import type { LengthUnit, PlanDocument } from './plan/PlanDocument.ts';
import { parsePlan } from './plan/parsePlan.ts';
import { type JudgedPulls, NOT_JUDGED } from './resultOfUndercut.ts';
import { StepCache } from './StepCache.ts';
import { StepTimes } from './StepTimes.ts';
import { isThicknessNear } from './shell/thicknessOfCoats.ts';

/** On scans of more triangles casting and thin spots come after the amounts: some 50 ms for 100 000 (own measurement). */
const AMOUNTS_FIRST_TRIS = 50_000;

/** The fields of an answer in the order in which they are asked for; and of one that is told before the fine one stands. */
const RUNGS: readonly Rung[] = ['coarse', 'fine'];
const RUNGS_TOLD: readonly Rung[] = ['coarse', 'rough', 'fine'];

/** Scans of more triangles wake the hands while they are put right. */
const WAKE_TRIS = 50_000;

export interface PlanOptions {
  /** How far to go: areas, volumes and masses alone, with what locks, or (the whole answer) with the best pulls too. */
  readonly until?: 'amounts' | 'undercuts' | 'pulls';
  /** Overrides the plan's resolutionMm. */
  readonly resolution?: number;
  /** What reading the file had to say; goes in front of the scan's notes. */
  readonly fileNotes?: readonly ScanNote[];
  /** The unit that the file names; holds where the plan leaves it open. */
  readonly fileUnit?: LengthUnit;
  /** How long reading took, for `timesMs.read`. */
  readonly readMs?: number;
  readonly progress?: ProgressListener;
  readonly signal?: AbortSignal;
  /** Kept by the caller between plans of the same mesh: only what a change touches is done again. */
  readonly cache?: StepCache;
  /** Who makes the slabs of a large field; when left out they are made one after the other, with the same answer. */
  readonly slabs?: SlabRunner;
  /** Called with what there is before the whole answer: rough numbers, when the fine ones take their time; the fine ones, before the undercuts (`PlanRun.depth` tells what they lack). */
  readonly onEarlier?: (run: PlanRun) => void | Promise<void>;
  /**
   * Called before all of those, when no field stands yet: an estimate from the surface alone (`estimateShell`). Twice when first
   * lines are to be found: before that for the shell in one piece, without a flange.
   */
  readonly onRough?: (rough: RoughRun) => void | Promise<void>;
}

/** What can be drawn of an answer before there is a field: no shell. */
export type BareRun = Pick<
  PlanRun,
  'plan' | 'result' | 'scan' | 'surface' | 'source' | 'parting' | 'grounds' | 'scanKey'
>;

/** An estimate. */
export interface RoughRun extends BareRun {
  /** True as long as first lines are sought: the rubber is in one piece. */
  readonly isUndivided: boolean;
}

/** A result with what it was made from, for drawing. */
export interface PlanRun {
  readonly plan: PlanDocument;
  readonly result: PlanResult;
  /** The body that the shell is laid on: the rubber, with the filler that the user accepted. */
  readonly scan: PreparedScan;
  readonly surface: SurfaceContext;
  readonly source: BandSource;
  readonly parting: PartingStep;
  /** Its bare rubber, and the filler between the two. */
  readonly grounds: Grounds;
  /** Null as long as it is not worked out. */
  readonly undercut: UndercutStep | null;
  /** 'amounts': without casting, and so without fasteners to buy and what is to be heeded of the pour; 'most': without a levelled finish. */
  readonly depth: Depth;
  /** The field that gave the numbers, and the one of twice its cell, fine enough to look at. */
  readonly field: Field;
  readonly lookField: Field;
  readonly wall: PartingWall | null;
  /** What the work was planned from. */
  readonly tables: WorkTables;
  /** Names all that the pieces' part of `field` was made from; and of `lookField`. */
  readonly piecesKey: string;
  readonly lookKey: string;
  /** Names the prepared scan. */
  readonly scanKey: string;
}

/** The answer to a plan document for a mesh in the file's own units. Throws MeshError, PlanError, or the abort reason. */
export async function computePlan(
  plan: PlanDocument,
  mesh: TriMesh,
  options: PlanOptions = {},
): Promise<PlanResult> {
  return (await runPlan(plan, mesh, options)).result;
}

/** The whole way from a mesh to the answer. Every step is remembered by what it reads. */
export async function runPlan(
  plan: PlanDocument,
  mesh: TriMesh,
  options: PlanOptions = {},
): Promise<PlanRun> {
  const begun = new Map<string, FieldJob>();
  try {
    return await runSteps(plan, mesh, options, begun);
  } finally {
    // Begun for an answer that failed or was cancelled.
    for (const job of begun.values()) job.cancel();
  }
}

/** @param begun fields that other hands are at and that were not asked for yet. */
async function runSteps(
  plan: PlanDocument,
  mesh: TriMesh,
  options: PlanOptions,
  begun: Map<string, FieldJob>,
): Promise<PlanRun> {
  parsePlan(options.resolution === undefined ? plan : { ...plan, resolutionMm: options.resolution });
  const cache = options.cache ?? new StepCache();
  const cp = new Checkpoint(options.progress, options.signal);
  const times = new StepTimes(options.readMs ?? 0);
  if (triCount(mesh) > WAKE_TRIS) options.slabs?.wake?.();

  const innerMm = innerDistanceMm(plan);
  const outerMm = outerDistanceMm(plan);
  const asked = options.resolution ?? plan.resolutionMm;
  const climb = (ground: Ground): FieldLadder =>
    new FieldLadder(
      plan,
      ground,
      outerMm,
      innerMm,
      asked,
      cache,
      times,
      options.slabs ?? SINGLE_RUNNER,
      begun,
    );
  const tellRough = async (grounds: Grounds, isUndivided: boolean, phase: Checkpoint): Promise<void> => {
    const ladder = climb(grounds.filled);
    if (!options.onRough || ladder.isNear('coarse') || ladder.has('fine')) return;
    const { scan, surface, source, parting, scanKey } = grounds.filled;
    const step = await estimateShell(plan, grounds.filled, innerMm, outerMm, cache, phase);
    const result = assembleResult({
      plan,
      scan,
      parting,
      ...step,
      judged: NOT_JUDGED,
      filler: grounds.filler,
      strays: grounds.strays,
      cellMm: 0,
      isPreliminary: true,
      timesMs: times.sofar(),
    });
    await options.onRough({ plan, result, scan, surface, source, parting, grounds, scanKey, isUndivided });
  };
  const estimating = cp.within(0.18, 0.2, 'estimating the shell');
  const grounds = await layGround(
    plan,
    mesh,
    options.fileNotes ?? [],
    cache,
    times,
    cp.within(0, 0.18, 'putting the scan right'),
    options.fileUnit,
    async (bare) => {
      await tellRough({ bare, filled: bare, strays: [], filler: null }, true, estimating);
      // The fields do not hang on the lines: other hands make them while this one seeks first lines. Over filler they are others.
      if (plan.parting.blockOut.length > 0) return;
      const early = climb(bare);
      // Only an answer that is told early rests on the rough one. What is ordered goes out before this thread is busy.
      const silent = new Checkpoint(undefined, options.signal);
      for (const rung of options.onEarlier ? RUNGS_TOLD : RUNGS) {
        early.begin(rung);
        await silent.pause(1);
      }
    },
  );
  const ground = grounds.filled;
  const ladder = climb(ground);
  await tellRough(grounds, false, estimating);
  // Each field is answered for by one of twice its cell. The rough pair is done in a fraction of the fine one's time.
  const coarse = await ladder.field('coarse', cp.within(0.2, 0.28, 'measuring roughly'));
  const coarseTables = await ladder.regions('coarse', coarse, cp.within(0.28, 0.3, 'sharing out the pieces'));
  const answer = async (
    field: Field,
    shell: TablePair,
    judged: JudgedPulls,
    phase: Checkpoint,
    depth: Depth,
  ): Promise<PlanRun> => {
    const isPreliminary = field.cellMm !== ladder.fineMm;
    const step = await measureShell(plan, ground, shell, innerMm, isPreliminary, depth, cache, times, phase);
    const { scan, surface, source, parting, scanKey } = ground;
    const result = assembleResult({
      plan,
      scan,
      parting,
      ...step,
      shell,
      judged,
      filler: grounds.filler,
      strays: grounds.strays,
      cellMm: field.cellMm,
      isPreliminary,
      timesMs: times.sofar(),
    });
    return {
      plan,
      result,
      scan,
      surface,
      source,
      parting,
      grounds,
      undercut: judged.undercut,
      depth,
      field,
      lookField: coarse,
      wall: step.wall,
      tables: workTables({ ...step, plan, scan, shell, parting }, innerMm),
      piecesKey: ladder.regionsKey(isPreliminary ? 'coarse' : 'fine'),
      lookKey: ladder.regionsKey('coarse'),
      scanKey,
    };
  };
  if (options.onEarlier && !ladder.isNear('fine')) {
    const rough = await ladder.field('rough', cp.within(0.3, 0.31, 'measuring roughly'));
    const roughTables = await ladder.regions('rough', rough, cp.within(0.31, 0.32, 'measuring roughly'));
    const roughPair = { fine: coarseTables, coarse: roughTables, coarser: FIELD_COARSER };
    await options.onEarlier(
      await answer(coarse, roughPair, NOT_JUDGED, cp.within(0.32, 0.34, 'measuring the flange'), 'amounts'),
    );
  }
  const fine = await ladder.field('fine', cp.within(0.34, 0.7, 'measuring finely'));
  const fineTables = await ladder.regions('fine', fine, cp.within(0.7, 0.74, 'sharing out the pieces'));
  const finePair = { fine: fineTables, coarse: coarseTables, coarser: FIELD_COARSER };
  const until = options.until ?? 'pulls';
  const judge = new PullJudge('last', plan, ground, cache);
  const whole = (judged: JudgedPulls, phase: Checkpoint, depth: Depth): Promise<PlanRun> =>
    answer(fine, finePair, judged, phase, depth);
  const tell = async (judged: JudgedPulls, phase: Checkpoint, depth: Depth): Promise<void> => {
    await options.onEarlier?.(await whole(judged, phase, depth));
    // A change that came meanwhile ends the job here, before what takes longer.
    await phase.pause(1);
  };
  const tellEarlier = async (judged: JudgedPulls, phase: Checkpoint, depth: Depth): Promise<void> => {
    if (options.onEarlier && !judge.isKnown) await tell(judged, phase, depth);
  };
  // What takes longer than the amounts comes after them: what locks and the levelled finish, then which other pulls there are.
  let judged = NOT_JUDGED;
  if (until !== 'amounts') {
    // Lines that were moved on a large scan have new amounts at once; what else the answer holds takes as long again.
    if (triCount(ground.scan.mesh) > AMOUNTS_FIRST_TRIS && !isPressureKnown(plan, ground, cache)) {
      await tellEarlier(judged, cp.within(0.74, 0.76, 'measuring the flange'), 'amounts');
    }
    await tellEarlier(judged, cp.within(0.76, 0.78, 'measuring the casting'), 'most');
    const undercut = await times.take('undercut', () =>
      judge.undercut(cp.within(0.78, 0.86, 'looking for undercuts')),
    );
    judged = { ...judged, undercut };
  }
  if (until === 'pulls') {
    await tellEarlier(judged, cp.within(0.86, 0.87, 'levelling the finish'), 'all');
    const ways = await times.take('undercut', () =>
      judge.waysOff(cp.within(0.87, 0.96, 'looking along every direction')),
    );
    judged = { ...judged, ...ways };
  }
  // A coat that is changed leaves the undercuts as they are: its amounts wait for nothing.
  if (options.onEarlier && !isThicknessNear(plan, ground.scanKey, cache)) {
    await tell(judged, cp.within(0.96, 0.965, 'measuring the flange'), 'most');
  }
  const run = await whole(judged, cp.within(0.965, 0.98, 'levelling the finish'), 'all');
  const comparison =
    until === 'pulls'
      ? await compareOnGround(run, ladder, cache, cp.within(0.98, 1, 'comparing systems'))
      : null;
  await cp.pause(1);
  return { ...run, result: { ...run.result, comparison } };
}
