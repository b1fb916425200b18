import { assembleResult, innerDistanceMm, type TablePair } from './assembleResult.ts';
import { Checkpoint, type ProgressListener } from './checkpoint.ts';
import type { BandGrid } from './field/BandGrid.ts';
import { type BandSource, makeBandSource } from './field/BandSource.ts';
import { buildBandField } from './field/buildBandField.ts';
import { type CoatTable, readTable, TABLE_WIDTH } from './field/CoatTable.ts';
import { affordCellMm, checkCellMm, chooseCellMm } from './field/chooseCell.ts';
import { sumRegions } from './field/sumRegions.ts';
import { type BrickTables, tabulateBricks } from './field/tabulateBricks.ts';
import type { PreparedScan } from './mesh/PreparedScan.ts';
import { prepareScan } from './mesh/prepareScan.ts';
import type { TriMesh } from './mesh/TriMesh.ts';
import type { PlanResult, ScanNote } from './PlanResult.ts';
import { buildWall, type PartingWall } from './parting/buildWall.ts';
import { type PartingStep, planParting } from './parting/planParting.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { SurfaceContext } from './parting/SurfaceContext.ts';
import { tabulateFlange } from './parting/tabulateFlange.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import { parsePlan } from './plan/parsePlan.ts';
import { StepCache } from './StepCache.ts';
import { findThin, predictAtVerts } from './shell/findThin.ts';
import { bendsOfRegions, measureBends } from './shell/measureBends.ts';
import { measureCurvature } from './shell/measureCurvature.ts';

export interface PlanOptions {
  /** Overrides the plan's resolutionMm. */
  readonly resolution?: number;
  /** What reading the file had to say; goes in front of the scan's notes. */
  readonly fileNotes?: readonly ScanNote[];
  /** How long reading took, for `timesMs.read`. */
  readonly readMs?: number;
  readonly progress?: ProgressListener;
  readonly signal?: AbortSignal;
  /** Kept by the caller between plans of the same mesh: only what a change touches is done again. */
  readonly cache?: StepCache;
  /** Called once with rough numbers, when the fine ones are still to come. */
  readonly onPreliminary?: (run: PlanRun) => void | Promise<void>;
}

/** A result with what it was made from, for drawing. */
export interface PlanRun {
  readonly plan: PlanDocument;
  readonly result: PlanResult;
  readonly scan: PreparedScan;
  readonly surface: SurfaceContext;
  readonly source: BandSource;
  readonly parting: PartingStep;
  /** The field that gave the numbers, and the one of twice its cell, fine enough to look at. */
  readonly field: Field;
  readonly lookField: Field;
  readonly wall: PartingWall | null;
  /** Names all that the pieces' part of `field` was made from; and of `lookField`. */
  readonly piecesKey: string;
  readonly lookKey: string;
  /** Names the prepared scan. */
  readonly scanKey: string;
}

/** A distance field, integrated. */
export interface Field {
  readonly grid: BandGrid;
  readonly tables: BrickTables;
  readonly bandMm: number;
  readonly cellMm: number;
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
  parsePlan(options.resolution === undefined ? plan : { ...plan, resolutionMm: options.resolution });
  const cache = options.cache ?? new StepCache();
  const cp = new Checkpoint(options.progress, options.signal);
  const times = new StepTimes(options.readMs ?? 0);
  const { is: _is, rubberMm: _rubberMm, keepClear, file: _file, ...scanReads } = plan.scan;

  const scanKey = JSON.stringify(scanReads);
  const scan = await times.take('repair', () =>
    cache.remember('scan', scanKey, () =>
      prepareScan(mesh, plan.scan, options.fileNotes ?? [], cp.within(0, 0.08, 'putting the scan right')),
    ),
  );
  const source = await cache.remember('source', scanKey, () => makeBandSource(scan));
  const surface = await cache.remember('surface', scanKey, () => new SurfaceContext(scan));

  const { flange, ...partingReads } = plan.parting;
  const partingKey = scanKey + JSON.stringify(partingReads);
  const parting = await times.take('pieces', () =>
    cache.remember('parting', partingKey, () =>
      planParting(surface, plan.parting, cp.within(0.08, 0.16, 'laying the parting line')),
    ),
  );

  const innerMm = innerDistanceMm(plan);
  const outerMm = innerMm + plan.coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);
  const scanAreaMm2 = await cache.remember('area', scanKey, () =>
    regionAreas(parting.cut, []).reduce((sum, area) => sum + area, 0),
  );
  const thinnestMm = Math.min(...plan.coats.map((coat) => coat.thicknessMm));
  const asked = options.resolution ?? plan.resolutionMm;
  const fineMm =
    asked === 'auto' ? chooseCellMm(thinnestMm, outerMm - innerMm, scanAreaMm2, bandFor(outerMm)) : asked;

  checkCellMm(fineMm, scanAreaMm2, bandFor(outerMm));

  const fieldAt = (cellMm: number, phase: Checkpoint): Promise<Field> =>
    times.take('field', () => rememberField(cache, scanKey, scan, source, cellMm, outerMm, phase));
  const regionsKey = (cellMm: number): string =>
    JSON.stringify([partingKey, keepClear, cellMm, bandFor(outerMm), plan.scan.is]);
  const regionsAt = (field: Field, phase: Checkpoint): Promise<CoatTable[]> =>
    times.take('coats', () =>
      cache.remember(`regions ${rung(field.cellMm, fineMm)}`, regionsKey(field.cellMm) + field.bandMm, () =>
        sumRegions(field.grid, source, field.tables, parting.cut, keepClear, phase),
      ),
    );
  const finish = async (
    field: Field,
    shell: TablePair,
    isPreliminary: boolean,
    phase: Checkpoint,
  ): Promise<PlanRun> => {
    const made = flange
      ? await times.take('pieces', () =>
          rememberFlange(
            cache,
            partingKey,
            scanKey,
            scan,
            source,
            parting,
            flange,
            scanAreaMm2,
            innerMm,
            isPreliminary,
            phase,
          ),
        )
      : null;
    const areasMm2 =
      innerMm === 0
        ? await cache.remember('areas', partingKey + JSON.stringify(keepClear), () =>
            regionAreas(parting.cut, keepClear),
          )
        : shell.fine.map((table) => growthAt(table, innerMm));
    const bends = await cache.remember('bends', scanKey, () => measureBends(scan.mesh, scan.twins));
    const bendsMm = await cache.remember('bends of regions', partingKey, () =>
      bendsOfRegions(bends, parting.cut),
    );
    const thin = await times.take('coats', () =>
      thinSpots(cache, scanKey, plan, scan, parting, innerMm, outerMm - innerMm),
    );
    const result = assembleResult({
      plan,
      scan,
      parting,
      areasMm2,
      bendsMm,
      shell,
      flange: made?.tables ?? null,
      thin,
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
      field,
      lookField: coarse,
      wall: made?.wall ?? null,
      piecesKey: regionsKey(field.cellMm),
      lookKey: regionsKey(coarse.cellMm),
      scanKey,
    };
  };

  // Each field is answered for by one of twice its cell. The rough pair is done in a fraction of the fine one's time.
  const coarse = await fieldAt(2 * fineMm, cp.within(0.18, 0.3, 'measuring roughly'));
  const coarseTables = await regionsAt(coarse, cp.within(0.3, 0.32, 'sharing out the pieces'));
  const isFineKnown = cache.has('field fine', fieldKey(scanKey, fineMm, outerMm));
  if (options.onPreliminary && !isFineKnown) {
    const rough = await fieldAt(4 * fineMm, cp.within(0.32, 0.33, 'measuring roughly'));
    const roughTables = await regionsAt(rough, cp.within(0.33, 0.34, 'measuring roughly'));
    await options.onPreliminary(
      await finish(
        coarse,
        { fine: coarseTables, coarse: roughTables, coarser: FIELD_COARSER },
        true,
        cp.within(0.34, 0.36, 'measuring the flange'),
      ),
    );
  }
  const fine = await fieldAt(fineMm, cp.within(0.36, 0.9, 'measuring finely'));
  const fineTables = await regionsAt(fine, cp.within(0.9, 0.94, 'sharing out the pieces'));
  const run = await finish(
    fine,
    { fine: fineTables, coarse: coarseTables, coarser: FIELD_COARSER },
    false,
    cp.within(0.94, 1, 'measuring the flange'),
  );
  await cp.pause(1);
  return run;

  function rung(cellMm: number, fineCellMm: number): string {
    return cellMm === fineCellMm ? 'fine' : cellMm === 2 * fineCellMm ? 'coarse' : 'rough';
  }

  function rememberField(
    steps: StepCache,
    key: string,
    prepared: PreparedScan,
    from: BandSource,
    cellMm: number,
    reachMm: number,
    phase: Checkpoint,
  ): Promise<Field> {
    return steps.remember(`field ${rung(cellMm, fineMm)}`, fieldKey(key, cellMm, reachMm), async () => {
      const bandMm = bandFor(reachMm);
      const isClosed = prepared.volumeMm3 !== null;
      const grid = await buildBandField(
        from,
        cellMm,
        bandMm,
        isClosed,
        phase.within(0, 0.7, 'measuring distances'),
      );
      // The last knot stands at the band's end: a table that ends before it would cut the outermost coat short.
      const steps = Math.max(LEAST_KNOT_STEPS, Math.ceil(bandMm / (cellMm * KNOT_CELLS)));
      const knotMm = bandMm / steps;
      const knotCount = steps + 1;
      const tables = await tabulateBricks(
        grid,
        from,
        knotMm,
        knotCount,
        phase.within(0.7, 1, 'measuring the coats'),
      );
      return { grid, tables, bandMm, cellMm };
    });
  }
}

/** Largest distance of two knots of the volume tables, in cell edges. */
const KNOT_CELLS = 0.5;
/** Cubic reading needs four knots, however coarse the cells. */
const LEAST_KNOT_STEPS = 3;

/** The band is rounded up to steps of this, with some room, so that a coat made thicker finds its field standing. */
const BAND_STEP_MM = 4;
const BAND_ROOM = 1.15;

function bandFor(outerMm: number): number {
  return Math.ceil((outerMm * BAND_ROOM) / BAND_STEP_MM) * BAND_STEP_MM;
}

function fieldKey(scanKey: string, cellMm: number, outerMm: number): string {
  return `${scanKey} ${cellMm} ${bandFor(outerMm)}`;
}

/** Cell edge of the field that answers for another, over that one's. */
const FIELD_COARSER = 2;

/** Cells of the flange's grid: this many to its thickness, and coarser once more for the bound. */
const FLANGE_CELLS = 2.5;
const FLANGE_COARSER = 1.5;
/** Normals along the line are averaged over this much of the flange's thickness to either side. */
const FLANGE_WINDOW = 1;

async function rememberFlange(
  cache: StepCache,
  partingKey: string,
  scanKey: string,
  scan: PreparedScan,
  source: BandSource,
  parting: PartingStep,
  flange: NonNullable<PlanDocument['parting']['flange']>,
  scanAreaMm2: number,
  innerMm: number,
  isPreliminary: boolean,
  cp: Checkpoint,
): Promise<{ wall: PartingWall; tables: TablePair & { readonly cellMm: number } }> {
  const { widthMm, thicknessMm } = flange;
  const heightMm = innerMm + widthMm;
  const cellMm = affordCellMm(thicknessMm / FLANGE_CELLS, scanAreaMm2, heightMm);
  const key = JSON.stringify([partingKey, widthMm, thicknessMm, innerMm]);
  const wall = await cache.remember('wall', key, () =>
    buildWall(
      scan.mesh,
      parting.cut.segments,
      parting.chains,
      scan.standsOnBoard,
      heightMm + cellMm,
      cellMm,
      FLANGE_WINDOW * thicknessMm,
    ),
  );
  const tablesAt = (rung: number, phase: Checkpoint): Promise<CoatTable[]> =>
    cache.remember(`flange ${rung}`, key, async () => {
      const far = await cache.remember(`far field ${rung}`, `${scanKey} ${cellMm} ${heightMm}`, () =>
        buildBandField(
          source,
          cellMm * FLANGE_COARSER ** rung,
          heightMm,
          scan.volumeMm3 !== null,
          phase.within(0, 0.5, 'measuring distances'),
        ),
      );
      return tabulateFlange(
        source,
        far,
        wall,
        parting.cut.regionCount,
        thicknessMm,
        heightMm,
        phase.within(0.5, 1, 'measuring the flange'),
      );
    });
  // The rough answer is one rung coarser throughout.
  const rung = isPreliminary ? 1 : 0;
  const coarse = await tablesAt(rung + 1, cp.within(0, 0.3, 'measuring the flange'));
  const fine = await tablesAt(rung, cp.within(0.3, 1, 'measuring the flange'));
  return {
    wall,
    tables: { fine, coarse, coarser: FLANGE_COARSER, cellMm: cellMm * FLANGE_COARSER ** rung },
  };
}

/** Area of the level set at a distance, mm2: the growth of the volume there. */
function growthAt(table: CoatTable, distanceMm: number): number {
  const below = new Float64Array(TABLE_WIDTH);
  const above = new Float64Array(TABLE_WIDTH);
  // Below zero the table holds nothing: over thin rubber the span is shorter on that side.
  const fromMm = Math.max(0, distanceMm - table.knotMm);
  const toMm = distanceMm + (distanceMm - fromMm);
  readTable(table, fromMm, below);
  readTable(table, toMm, above);
  return (above[0] - below[0]) / (toMm - fromMm);
}

/** Scales at which curvature is measured, mm: the smallest that is not below the shell's thickness. */
const CURVATURE_SCALES_MM = [2, 3, 5, 7, 10, 14, 20, 30, 45, 70, 100];

async function thinSpots(
  cache: StepCache,
  scanKey: string,
  plan: PlanDocument,
  scan: PreparedScan,
  parting: PartingStep,
  innerMm: number,
  laidMm: number,
): Promise<ReturnType<typeof findThin>> {
  const scaleMm =
    CURVATURE_SCALES_MM.find((s) => s >= laidMm) ?? CURVATURE_SCALES_MM[CURVATURE_SCALES_MM.length - 1];
  const curvature = await cache.remember('curvature', `${scanKey} ${scaleMm}`, () =>
    measureCurvature(scan.mesh, scan.twins, scan.isSurface, scaleMm),
  );
  const thicknessMm = await cache.remember('thickness', `${scanKey} ${laidMm} ${innerMm}`, () =>
    predictAtVerts(curvature, laidMm, innerMm),
  );
  return findThin(
    thicknessMm,
    curvature.areaMm2,
    parting.vertRegion,
    parting.cut.regionCount,
    plan.leastThicknessMm,
    laidMm,
  );
}

/** Adds up what each part of the work took, by the names of the result. */
class StepTimes {
  private readonly startMs = performance.now();
  private readonly sums = { read: 0, repair: 0, field: 0, coats: 0, pieces: 0, undercut: 0 };

  constructor(readMs: number) {
    this.sums.read = readMs;
  }

  async take<T>(name: keyof StepTimes['sums'], work: () => Promise<T>): Promise<T> {
    const from = performance.now();
    try {
      return await work();
    } finally {
      this.sums[name] += performance.now() - from;
    }
  }

  sofar(): PlanResult['timesMs'] {
    return { ...this.sums, total: this.sums.read + performance.now() - this.startMs };
  }
}
