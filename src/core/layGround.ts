import type { Checkpoint } from './checkpoint.ts';
import { PlanError } from './errors.ts';
import { type BandSource, makeBandSource } from './field/BandSource.ts';
import { affordCellMm } from './field/chooseCell.ts';
import { PullJudge } from './judgePulls.ts';
import type { PreparedScan } from './mesh/PreparedScan.ts';
import { prepareScan } from './mesh/prepareScan.ts';
import type { TriMesh } from './mesh/TriMesh.ts';
import type { ScanNote } from './PlanResult.ts';
import type { BlockOut } from './parting/blockOut/BlockOut.ts';
import { fillUndercuts } from './parting/blockOut/fillUndercuts.ts';
import { type PartingStep, planParting } from './parting/planParting.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { SurfaceContext } from './parting/SurfaceContext.ts';
import { strayNotes } from './parting/strayNotes.ts';
import type { Spot } from './parting/undercut/UndercutStep.ts';
import type { LengthUnit, PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';
import type { StepTimes } from './StepTimes.ts';

/** What the shell is laid on: a closed body standing on its board, its surface cut into pieces. */
export interface Ground {
  readonly scan: PreparedScan;
  readonly source: BandSource;
  readonly surface: SurfaceContext;
  readonly parting: PartingStep;
  /** Area of S, mm2. */
  readonly areaMm2: number;
  /** Name all that scan and parting were made from. */
  readonly scanKey: string;
  readonly partingKey: string;
}

/** The rubber as scanned, and with the filler that the user accepted: the same when there is none. */
export interface Grounds {
  readonly bare: Ground;
  readonly filled: Ground;
  /** What of the plan was drawn on another surface. */
  readonly strays: readonly ScanNote[];
  readonly filler: { readonly blockOut: BlockOut; readonly spots: readonly Spot[] } | null;
}

/**
 * From the mesh in the file's units to the body that the shell is laid on. Every step is remembered by what it reads.
 *
 * @param onUndivided told of the rubber in one piece, before first lines are sought on it: that takes long on a large scan
 */
export async function layGround(
  plan: PlanDocument,
  mesh: TriMesh,
  fileNotes: readonly ScanNote[],
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
  fileUnit?: LengthUnit,
  onUndivided?: (ground: Ground) => Promise<void>,
): Promise<Grounds> {
  const { is: _is, rubberMm: _rubberMm, keepClear: _clear, file: _file, ...scanReads } = plan.scan;
  const scanKey = JSON.stringify(scanReads);
  const isFilled = plan.parting.blockOut === 'all' || plan.parting.blockOut.length > 0;
  const scan = await times.take('repair', () =>
    cache.remember('scan', scanKey, () =>
      prepareScan(mesh, plan.scan, fileNotes, cp.within(0, 0.3, 'putting the scan right'), fileUnit),
    ),
  );
  const bare = await standGround(
    '',
    scan,
    scanKey,
    plan.parting,
    partingReads(plan),
    cache,
    times,
    cp.within(0.3, isFilled ? 0.5 : 1, 'laying the parting line'),
    onUndivided,
  );
  const { blockOut, notHere } = plan.parting;
  const strayKey = JSON.stringify([bare.partingKey, plan.scan.keepClear, notHere, blockOut]);
  const strays = await cache.remember('strays', strayKey, () => strayNotes(bare.surface, plan));
  if (!isFilled) return { bare, filled: bare, strays, filler: null };

  if (plan.scan.is === 'pattern') {
    throw new PlanError(
      'bad-plan',
      'Filler is laid on the rubber, and this scan is the bare pattern. Scan the rubber once it is brushed, or go on without filler.',
      'parting.blockOut',
    );
  }
  const judge = new PullJudge('bare', plan, bare, cache);
  const undercut = await times.take('undercut', () =>
    judge.undercut(cp.within(0.5, 0.6, 'looking for undercuts')),
  );
  const { blockOut: accepted, rubberGiveMm: giveMm } = plan.parting;
  const cellMm = affordCellMm(FILLER_CELL_MM, bare.areaMm2, FILLER_REACH_MM);
  const fillerKey = JSON.stringify([bare.partingKey, accepted, giveMm, cellMm]);
  const filling = await times.take('undercut', () =>
    cache.remember('filler', fillerKey, () =>
      fillUndercuts(
        { scan, surface: bare.surface, parting: bare.parting, undercut, accepted, giveMm, cellMm },
        cp.within(0.6, 0.9, 'filling the undercuts'),
      ),
    ),
  );
  if (filling === null) return { bare, filled: bare, strays, filler: null };
  const { lines, pieces } = filling;
  const filled = await standGround(
    'filled ',
    filling.scan,
    fillerKey,
    { ...plan.parting, lines, pieces },
    '',
    cache,
    times,
    cp.within(0.9, 1, 'laying the parting line over the filler'),
  );
  const spots = filling.filled.map((n) => undercut.spots[n]);
  return { bare, filled, strays, filler: { blockOut: filling, spots } };
}

/** Cell of the filler's own grid, mm: a spatula's accuracy. Own choice. */
const FILLER_CELL_MM = 1;
/** Filler is seldom thicker than this; only sets how coarse the cell must get on large bodies. */
const FILLER_REACH_MM = 20;

async function standGround(
  rung: string,
  scan: PreparedScan,
  scanKey: string,
  lines: PlanDocument['parting'],
  reads: string,
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
  onUndivided?: (ground: Ground) => Promise<void>,
): Promise<Ground> {
  const partingKey = scanKey + reads;
  const source = await cache.remember(`${rung}source`, scanKey, () => makeBandSource(scan));
  const surface = await cache.remember(`${rung}surface`, scanKey, () => new SurfaceContext(scan));
  const groundWith = async (parting: PartingStep, key: string): Promise<Ground> => {
    const areaMm2 = await cache.remember(`${rung}area`, scanKey, () =>
      regionAreas(parting.cut, []).reduce((sum, area) => sum + area, 0),
    );
    return { scan, source, surface, parting, areaMm2, scanKey, partingKey: key };
  };
  if (onUndivided && lines.lines === 'auto' && !cache.has(`${rung}parting`, partingKey)) {
    const undivided = await planParting(
      surface,
      { ...lines, lines: [], pieces: [] },
      cp.within(0, 0.1, 'looking at the whole'),
    );
    await onUndivided(await groundWith(undivided, `${scanKey} undivided`));
  }
  const parting = await times.take('pieces', () =>
    cache.remember(`${rung}parting`, partingKey, () =>
      planParting(surface, lines, cp.within(0.1, 1, 'laying the parting line')),
    ),
  );
  return groundWith(parting, partingKey);
}

/** What of the plan decides the lines and the pieces. */
function partingReads(plan: PlanDocument): string {
  const {
    flange: _flange,
    rubberGiveMm: _give,
    blockOut: _blockOut,
    notHere: _notHere,
    ...reads
  } = plan.parting;
  return JSON.stringify(reads);
}
