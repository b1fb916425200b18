import { coarseNotes } from './coarseNotes.ts';
import { PlanError } from './errors.ts';
import { between, type CoatTable } from './field/CoatTable.ts';
import { groundOfWork, lengthOfLines, rubberOfMouldMm3, type WorkTables } from './groundOfWork.ts';
import { castingGround, liftingGround } from './groundsOfLoad.ts';
import { coatMix } from './material/coatMix.ts';
import { flangeDensity } from './material/flangeShares.ts';
import { plainMassG } from './material/plainMassG.ts';
import { measureFoot } from './mesh/measureFoot.ts';
import type { PreparedScan } from './mesh/PreparedScan.ts';
import type { Vec3 } from './mesh/TriMesh.ts';
import type { CoatResult, PieceResult, PlanResult, ProbeResult, ScanNote } from './PlanResult.ts';
import type { BlockOut } from './parting/blockOut/BlockOut.ts';
import type { LineChain } from './parting/chainSegments.ts';
import { leaveLinesClear } from './parting/leaveLinesClear.ts';
import type { PartingStep, PieceName } from './parting/planParting.ts';
import { regionBoxes } from './parting/regionBoxes.ts';
import type { Spot } from './parting/undercut/UndercutStep.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { CoatPlan, PlanDocument } from './plan/PlanDocument.ts';
import { totalThicknessMm } from './plan/totalThicknessMm.ts';
import { type ThinStep, thinResult } from './resultOfThin.ts';
import { fillerResult, type JudgedPulls, removalResult, undercutResult } from './resultOfUndercut.ts';
import { boundCoats, type RegionGround } from './shell/boundCoats.ts';
import { boundEstimate } from './shell/boundEstimate.ts';
import { boundLayers, type Layer } from './shell/boundVolume.ts';
import type { ProbePoint } from './shell/chooseProbes.ts';
import { castMould } from './work/casting/castMould.ts';
import type { MouldPressure } from './work/casting/pressMould.ts';
import { listCautions } from './work/cautions.ts';
import { liftPieces } from './work/lifting/liftPieces.ts';
import { planWork } from './work/planWork.ts';

/** Tables of every region on two fields, the second coarser, for the bound; or an estimate, and that with its doubt added. */
export interface TablePair {
  readonly fine: readonly CoatTable[];
  readonly coarse: readonly CoatTable[];
  /** Cell edge of the coarse field over that of the fine one; 'doubted' for an estimate. */
  readonly coarser: number | 'doubted';
}

export interface AssembleInput {
  readonly plan: PlanDocument;
  readonly scan: PreparedScan;
  readonly parting: PartingStep;
  /** Area of S by region, mm2. */
  readonly areasMm2: ArrayLike<number>;
  /** How much S bends by region (`bendsOfRegions`), mm. */
  readonly bendsMm: ArrayLike<number>;
  readonly shell: TablePair;
  /** With the cell edge of its fine field, mm. */
  readonly flange: (TablePair & { readonly cellMm: number }) | null;
  /** Null: not worked out yet. */
  readonly thin: ThinStep | null;
  readonly probes: readonly ProbePoint[];
  readonly pressure: MouldPressure | null;
  readonly judged: JudgedPulls;
  /** Filler that the shell is laid over, and the spots that it fills. */
  readonly filler: { readonly blockOut: BlockOut; readonly spots: readonly Spot[] } | null;
  /** What of the plan was drawn on another surface (`strayNotes`): told with the scan's own warnings. */
  readonly strays?: readonly ScanNote[];
  readonly cellMm: number;
  readonly isPreliminary: boolean;
  readonly timesMs: PlanResult['timesMs'];
}

/** From tables to the answer: look-ups and sums only, well under a frame. */
export function assembleResult(input: AssembleInput): PlanResult {
  const { plan, scan, parting, filler, judged, strays = [] } = input;
  const innerMm = innerDistanceMm(plan);
  const steps = coatSteps(plan.coats);
  const thicknessMm = steps[steps.length - 1].toMm;
  const tables = workTables(input, innerMm);
  const pieces = parting.pieces.map((_, region) => pieceResult(input, region, innerMm, steps, tables.chains));
  const sum = (pick: (piece: PieceResult) => number): number =>
    pieces.reduce((total, piece) => total + pick(piece), 0);
  if (!input.isPreliminary && !Number.isFinite(sum((piece) => piece.volumeMm3 + piece.volumeErrorMm3))) {
    // Never an amount that is none: nothing of a body that fits between two cells can be measured.
    throw new PlanError(
      'bad-plan',
      `The scan is ${Math.max(...scan.report.sizeMm).toPrecision(3)} mm large, too small to be measured in cells of ${input.cellMm} mm. Choose its unit or its scale, or a finer resolution.`,
      'scan.unit',
    );
  }
  // An estimate has no cells.
  const notes = [...strays, ...(input.isPreliminary ? [] : coarseNotes(pieces, input.cellMm))];
  const name = (region: number): string => parting.pieces[region].id;
  const rubberMm3 = rubberOfMouldMm3(plan, tables);
  const rubberG = plainMassG(plan.rubber, rubberMm3);
  const casting = castMould(plan, castingGround(input, pieces, rubberMm3, rubberG), input.pressure);
  const fillerMm3 = filler?.blockOut.volumeMm3.reduce((total, volume) => total + volume, 0) ?? 0;
  const work = planWork(plan, groundOfWork(plan, tables, fillerMm3, casting?.fasteners ?? null));
  const handling = liftPieces(plan, liftingGround(input, pieces, rubberG, casting?.castG ?? null));
  return {
    schema: 'scute-result/1',
    scan:
      notes.length === 0 ? scan.report : { ...scan.report, warnings: [...scan.report.warnings, ...notes] },
    resolutionMm: input.cellMm,
    preliminary: input.isPreliminary,
    rubber: rubberResult(input, innerMm),
    shell: {
      thicknessMm,
      volumeMm3: sum((piece) => piece.volumeMm3),
      volumeErrorMm3:
        sum((piece) => piece.volumeErrorMm3) -
        savedByTogether(input, { fromMm: innerMm, toMm: innerMm + thicknessMm }, layersOf(steps, innerMm)),
      massG: sum((piece) => piece.massG),
      massErrorG: sum((piece) => piece.massErrorG),
    },
    pieces,
    filler: filler && fillerResult(filler.blockOut, filler.spots, parting.pieces, plan.filler),
    removal: judged.undercut && removalResult(judged.undercut, parting.pieces),
    partingLines: parting.chains.map((chain) => ({
      between: [name(chain.left), name(chain.right)] as [string, string],
      lengthMm: chain.lengthMm,
      points: toPoints(chain.points),
    })),
    ...work,
    comparison: null,
    casting,
    handling,
    probes: probeResults(plan, parting.pieces, input.probes),
    cautions: listCautions(plan, { casting, handling }),
    timesMs: input.timesMs,
  };
}

/** The tables that the work is planned from. */
export function workTables(
  {
    plan,
    scan,
    shell,
    flange,
    areasMm2,
    parting,
  }: Pick<AssembleInput, 'plan' | 'scan' | 'shell' | 'flange' | 'areasMm2' | 'parting'>,
  innerMm: number,
): WorkTables {
  const { pieces } = parting;
  const chains = leaveLinesClear(parting.chains, ballsOf(plan.scan.keepClear));
  // A cap that stands on the board adds nothing, and lines change nothing.
  const footMm = measureFoot(scan.mesh);
  return { shell: shell.fine, flange: flange?.fine ?? null, areasMm2, innerMm, pieces, chains, footMm };
}

/** Distance from the scanned surface at which the shell begins: the rubber's thickness over a bare pattern. */
export function innerDistanceMm(plan: PlanDocument): number {
  return plan.scan.is === 'pattern' ? plan.scan.rubberMm : 0;
}

/** Distance from the scanned surface to the outside of the shell. */
export function outerDistanceMm(plan: PlanDocument): number {
  return innerDistanceMm(plan) + totalThicknessMm(plan.coats);
}

export interface CoatStep {
  readonly coat: CoatPlan;
  /** From and to, mm from the rubber. */
  readonly fromMm: number;
  readonly toMm: number;
}

export function coatSteps(coats: readonly CoatPlan[]): CoatStep[] {
  let fromMm = 0;
  return coats.map((coat) => {
    const step = { coat, fromMm, toMm: fromMm + coat.thicknessMm };
    fromMm = step.toMm;
    return step;
  });
}

/** Bound of each layer's volume over a region, mm3, from its two tables. */
function boundRegion(
  { shell: { fine, coarse, coarser }, cellMm, ...input }: AssembleInput,
  region: number,
  layers: readonly Layer[],
): number[] {
  return coarser === 'doubted'
    ? boundEstimate(fine[region], coarse[region], layers)
    : boundCoats(fine[region], coarse[region], coarser, layers, groundOf(input, region), cellMm);
}

function groundOf(
  { bendsMm, parting }: Pick<AssembleInput, 'bendsMm' | 'parting'>,
  region: number,
): RegionGround {
  return { bendMm: bendsMm[region], lineMm: lengthOfLines(parting.chains, region) };
}

/** Faces that run into each other err in all coats to the same side: found on tangled scans, at most 1.3. */
const TOGETHER_ROOM = 1.6;

/**
 * What the pieces' bounds, coat by coat, are more than the bound of the whole shell at once, mm3: what one coat has too much
 * at a level the next has too little, and so have two pieces along a line.
 */
function savedByTogether(input: AssembleInput, whole: Layer, layers: readonly Layer[]): number {
  const { fine, coarse, coarser } = input.shell;
  if (coarser === 'doubted') return 0;
  const apart = fine.reduce(
    (sum, _, region) => sum + boundRegion(input, region, layers).reduce((a, b) => a + b, 0),
    0,
  );
  const bendMm = fine.reduce((sum, _, region) => sum + input.bendsMm[region], 0);
  const [together] = boundCoats(
    sumTables(fine),
    sumTables(coarse),
    coarser,
    [whole],
    { bendMm, lineMm: 0 },
    input.cellMm,
  );
  return Math.max(0, apart - TOGETHER_ROOM * together);
}

function sumTables(tables: readonly CoatTable[]): CoatTable {
  const rows = new Float64Array(tables[0].rows.length);
  for (const table of tables) for (let n = 0; n < rows.length; n++) rows[n] += table.rows[n];
  return { ...tables[0], rows };
}

function layersOf(steps: readonly CoatStep[], innerMm: number): Layer[] {
  return steps.map((step) => ({ fromMm: innerMm + step.fromMm, toMm: innerMm + step.toMm }));
}

function boundFlange(
  { fine, coarse, coarser, cellMm }: NonNullable<AssembleInput['flange']>,
  region: number,
  layer: Layer,
  bendMm: number,
): number[] {
  return coarser === 'doubted'
    ? boundEstimate(fine[region], coarse[region], [layer])
    : boundLayers(fine[region], coarse[region], coarser, [layer], bendMm, cellMm);
}

function pieceResult(
  input: AssembleInput,
  region: number,
  innerMm: number,
  steps: readonly CoatStep[],
  laidLines: readonly LineChain[],
): PieceResult {
  const { plan, parting, shell, flange } = input;
  const piece = parting.pieces[region];
  const moments = new Float64Array(3);
  const dryMoments = new Float64Array(3);
  const flangeG = flangeDensity(plan);
  const bounds = boundRegion(input, region, layersOf(steps, innerMm));
  const unseenShareMm2 = unseenBound(input, region);
  const coats: CoatResult[] = steps.map((step, n) => {
    const part = between(shell.fine[region], innerMm + step.fromMm, innerMm + step.toMm);
    const volumeMm3 = Math.max(0, part[0]);
    const volumeErrorMm3 =
      bounds[n] +
      unseenShareMm2 * (step.toMm - step.fromMm) +
      roughBound(input.scan, input.areasMm2[region], innerMm + step.fromMm);
    const { mix } = coatMix(plan, step.coat);
    const densityGPerMm3 = mix.densityGPerCm3 / 1000;
    const massG = densityGPerMm3 * volumeMm3;
    for (let k = 0; k < 3; k++) {
      moments[k] += densityGPerMm3 * part[k + 1];
      dryMoments[k] += densityGPerMm3 * mix.dryShare * part[k + 1];
    }
    return {
      name: step.coat.name,
      kind: step.coat.kind,
      fromMm: step.fromMm,
      toMm: step.toMm,
      volumeMm3,
      volumeErrorMm3,
      massG,
      massErrorG: densityGPerMm3 * volumeErrorMm3,
      dryMassG: massG * mix.dryShare,
    };
  });
  const flangeResult = measureFlange(input, region, innerMm, steps[steps.length - 1].toMm);
  const massG = coats.reduce((total, coat) => total + coat.massG, flangeResult.massG);
  const dryMassG = coats.reduce(
    (total, coat) => total + coat.dryMassG,
    flangeG.dryGPerMm3 * flangeResult.volumeMm3,
  );
  return {
    id: piece.id,
    name: piece.name,
    pull: piece.pull,
    areaMm2: input.areasMm2[region],
    volumeMm3: coats.reduce((total, coat) => total + coat.volumeMm3, flangeResult.volumeMm3),
    volumeErrorMm3: coats.reduce((total, coat) => total + coat.volumeErrorMm3, flangeResult.volumeErrorMm3),
    massG,
    massErrorG: coats.reduce(
      (total, coat) => total + coat.massErrorG,
      flangeG.wetGPerMm3 * flangeResult.volumeErrorMm3,
    ),
    centreOfMassMm: centreOf(moments, massG),
    dryMassG,
    dryCentreOfMassMm: centreOf(dryMoments, dryMassG),
    boxMm: boxOfRegion(parting.cut, region, outerDistanceMm(plan)),
    coats,
    flange: flangeResult,
    undercut: undercutResult(input.judged, region, plan.filler),
    thin: input.thin && thinResult(plan, input.thin, region, piece.id),
  };

  function measureFlange(
    { plan: { parting: partingPlan } }: AssembleInput,
    of: number,
    inner: number,
    outerMm: number,
  ): PieceResult['flange'] {
    const lengthMm = lengthOfLines(laidLines, of);
    const clearMm = laidLines === parting.chains ? 0 : lengthOfLines(parting.chains, of) - lengthMm;
    if (!flange || !partingPlan.flange || partingPlan.flange.widthMm <= outerMm) {
      return { lengthMm, clearMm, volumeMm3: 0, volumeErrorMm3: 0, massG: 0 };
    }
    const from = inner + outerMm;
    const to = inner + partingPlan.flange.widthMm;
    const part = between(flange.fine[of], from, to);
    const [bound] = boundFlange(
      flange,
      of,
      { fromMm: from, toMm: to },
      partingPlan.flange.thicknessMm * turnOfLines(parting.chains, of),
    );
    for (let k = 0; k < 3; k++) {
      moments[k] += flangeG.wetGPerMm3 * part[k + 1];
      dryMoments[k] += flangeG.dryGPerMm3 * part[k + 1];
    }
    const volumeMm3 = Math.max(0, part[0]);
    return { lengthMm, clearMm, volumeMm3, volumeErrorMm3: bound, massG: flangeG.wetGPerMm3 * volumeMm3 };
  }
}

function centreOf(moments: Float64Array, massG: number): Vec3 {
  return massG > 0 ? [moments[0] / massG, moments[1] / massG, moments[2] / massG] : [0, 0, 0];
}

/** Box around the region's part of the surface, let out by the shell on every side but below the board. */
function boxOfRegion(cut: PartingStep['cut'], region: number, byMm: number): PieceResult['boxMm'] {
  const box = regionBoxes(cut)[region];
  const min: [number, number, number] = [...box.min];
  const max: [number, number, number] = [...box.max];
  for (let k = 0; k < 3; k++) {
    min[k] -= byMm;
    max[k] += byMm;
  }
  min[2] = Math.max(0, min[2]);
  return { min, max };
}

/** Sum of the angles by which the region's lines turn, radians: with the thickness, the bend of the flange's outer edge. */
function turnOfLines(chains: readonly LineChain[], region: number): number {
  let sum = 0;
  for (const { left, right, points: p } of chains) {
    if (left !== region && right !== region) continue;
    for (let n = 3; n + 3 < p.length; n += 3) {
      const ux = p[n] - p[n - 3];
      const uy = p[n + 1] - p[n - 2];
      const uz = p[n + 2] - p[n - 1];
      const vx = p[n + 3] - p[n];
      const vy = p[n + 4] - p[n + 1];
      const vz = p[n + 5] - p[n + 2];
      const cross = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
      sum += Math.atan2(cross, ux * vx + uy * vy + uz * vz);
    }
  }
  return sum;
}

/** A bulge that a lid closes off flat has up to twice the lid's area, as a half ball has. Own choice. */
const OPEN_ROOM = 2;

/** Area that nobody scanned: filled, or left open. What is over it may be missing or too much. */
function unseenMm2({ filledAreaMm2, openAreaMm2 }: AssembleInput['scan']): number {
  return filledAreaMm2 + OPEN_ROOM * openAreaMm2;
}

/**
 * Over a rough surface a coat's outside lies on its peaks and its inside follows it, so that it takes more than over the smooth
 * one: by at most so many standard deviations over the whole area, and the first coat by so many more. Found on half balls of
 * 600 to 37,000 faces with noise of 0.05 to 0.4 mm: at most 0.6, and 1.2 for the first (tried in test/core/mesh/dirtyScans).
 */
const ROUGH_ROOM = 1;
const ROUGH_ROOM_FIRST = 0.5;

/** What the surface's roughness may add to a layer of this area, mm3. */
function roughBound({ roughMm }: AssembleInput['scan'], areaMm2: number, fromMm: number): number {
  return roughMm * areaMm2 * (fromMm === 0 ? ROUGH_ROOM + ROUGH_ROOM_FIRST : ROUGH_ROOM);
}

/** Of the area that nobody scanned, this region's share. */
function unseenBound(input: AssembleInput, region: number): number {
  const total = Array.from(input.areasMm2).reduce((sum, area) => sum + area, 0);
  return total > 0 ? (unseenMm2(input.scan) * input.areasMm2[region]) / total : 0;
}

function rubberResult(input: AssembleInput, innerMm: number): PlanResult['rubber'] {
  const { plan, scan, shell } = input;
  const areaMm2 = Array.from(input.areasMm2).reduce((sum, area) => sum + area, 0);
  if (plan.scan.is === 'rubber') {
    return { areaMm2, heightMm: scan.heightMm, volumeMm3: scan.volumeMm3, layer: null };
  }
  const total = (tables: readonly CoatTable[]): number =>
    tables.reduce((sum, table) => sum + between(table, 0, innerMm)[0], 0);
  const volumeMm3 = total(shell.fine);
  const volumeErrorMm3 = shell.fine.reduce(
    (sum, _, region) => sum + boundRegion(input, region, [{ fromMm: 0, toMm: innerMm }])[0],
    unseenMm2(scan) * innerMm + roughBound(scan, areaMm2, 0),
  );
  return {
    areaMm2,
    heightMm: scan.heightMm + innerMm,
    volumeMm3: scan.volumeMm3 === null ? null : scan.volumeMm3 + volumeMm3,
    layer: { thicknessMm: innerMm, volumeMm3, volumeErrorMm3, massG: plainMassG(plan.rubber, volumeMm3) },
  };
}

/** The pins' points with what was measured at each, numbered as on the picture. */
function probeResults(
  { log }: PlanDocument,
  names: readonly PieceName[],
  probes: readonly ProbePoint[],
): ProbeResult[] {
  return probes.map(({ region, pointMm, predictedMm }, n) => ({
    number: n + 1,
    piece: names[region].id,
    pointMm,
    predictedMm,
    measured: log.probes
      .filter((probe) => nearestProbe(probes, probe.pointMm) === n)
      .map(({ coatsOn, thicknessMm }) => ({ coatsOn, thicknessMm })),
  }));
}

/** Number of the point that a measured one stands for: the points move a little when the shell is re-planned. */
function nearestProbe(probes: readonly ProbePoint[], [x, y, z]: Vec3): number {
  const distances = probes.map(({ pointMm: [a, b, c] }) => Math.hypot(a - x, b - y, c - z));
  return distances.indexOf(Math.min(...distances));
}

function toPoints(flat: Float64Array): Vec3[] {
  return Array.from({ length: flat.length / 3 }, (_, n) => [flat[3 * n], flat[3 * n + 1], flat[3 * n + 2]]);
}
