import type { Checkpoint } from './checkpoint.ts';
import { type BandSource, makeBandSource } from './field/BandSource.ts';
import type { PreparedScan } from './mesh/PreparedScan.ts';
import { prepareScan } from './mesh/prepareScan.ts';
import type { TriMesh } from './mesh/TriMesh.ts';
import type { ScanNote } from './PlanResult.ts';
import { type PartingStep, planParting } from './parting/planParting.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { SurfaceContext } from './parting/SurfaceContext.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
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
}

/** From the mesh in the file's units to the body that the shell is laid on. Every step is remembered by what it reads. */
export async function layGround(
  plan: PlanDocument,
  mesh: TriMesh,
  fileNotes: readonly ScanNote[],
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
): Promise<Grounds> {
  const { is: _is, rubberMm: _rubberMm, keepClear: _clear, file: _file, ...scanReads } = plan.scan;
  const scanKey = JSON.stringify(scanReads);
  const scan = await times.take('repair', () =>
    cache.remember('scan', scanKey, () =>
      prepareScan(mesh, plan.scan, fileNotes, cp.within(0, 0.3, 'putting the scan right')),
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
    cp.within(0.3, 1, 'laying the parting line'),
  );
  return { bare, filled: bare };
}

async function standGround(
  rung: string,
  scan: PreparedScan,
  scanKey: string,
  lines: PlanDocument['parting'],
  reads: string,
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
): Promise<Ground> {
  const partingKey = scanKey + reads;
  const source = await cache.remember(`${rung}source`, scanKey, () => makeBandSource(scan));
  const surface = await cache.remember(`${rung}surface`, scanKey, () => new SurfaceContext(scan));
  const parting = await times.take('pieces', () =>
    cache.remember(`${rung}parting`, partingKey, () => planParting(surface, lines, cp)),
  );
  const areaMm2 = await cache.remember(`${rung}area`, scanKey, () =>
    regionAreas(parting.cut, []).reduce((sum, area) => sum + area, 0),
  );
  return { scan, source, surface, parting, areaMm2, scanKey, partingKey };
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
