import { between, type CoatTable } from './field/CoatTable.ts';
import { growthAt } from './field/growthAt.ts';
import { plainMassG } from './material/plainMassG.ts';
import type { LineChain } from './parting/chainSegments.ts';
import type { PieceName } from './parting/planParting.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { PieceGround, WorkGround } from './work/WorkGround.ts';

/**
 * Rubber cannot be thinner than this share of area x thickness by its bend: deep hollows would else count it away. Own choice.
 */
const LEAST_INWARD_SHARE = 0.4;

export interface WorkTables {
  /** The coats' tables by region; the flange's too, or null. */
  readonly shell: readonly CoatTable[];
  readonly flange: readonly CoatTable[] | null;
  readonly areasMm2: ArrayLike<number>;
  readonly innerMm: number;
  readonly pieces: readonly PieceName[];
  /** Off what is kept clear. */
  readonly chains: readonly LineChain[];
  /** Length of the outline on the board, mm. */
  readonly footMm: number;
}

/** What the work is planned from, by look-ups in the tables. */
export function groundOfWork(
  plan: PlanDocument,
  tables: WorkTables,
  fillerMm3: number,
  fasteners: number | null,
): WorkGround {
  const { shell, flange, innerMm, chains } = tables;
  const flangePlan = plan.parting.flange;
  const pieces = tables.pieces.map((piece, region): PieceGround => {
    return {
      id: piece.id,
      name: piece.name,
      areaMm2: tables.areasMm2[region],
      shellMm3: (distanceMm) => Math.max(0, between(shell[region], innerMm, innerMm + distanceMm)[0]),
      areaAtMm2: (distanceMm) =>
        distanceMm === 0 ? tables.areasMm2[region] : growthAt(shell[region], innerMm + distanceMm),
      flange: { lengthMm: lengthOfLines(chains, region) },
      flangeMm3: (outerMm) =>
        flange && flangePlan && flangePlan.widthMm > outerMm
          ? Math.max(0, between(flange[region], innerMm + outerMm, innerMm + flangePlan.widthMm)[0])
          : 0,
    };
  });
  const rubberMm3 = rubberOfMouldMm3(plan, tables);
  return {
    pieces,
    borders: chains.map((chain) => ({
      between: [tables.pieces[chain.left].id, tables.pieces[chain.right].id] as const,
      lengthMm: chain.lengthMm,
    })),
    rubberG: plainMassG(plan.rubber, rubberMm3),
    fillerG: plainMassG(plan.filler, fillerMm3),
    footMm: tables.footMm,
    fasteners,
    flangeWidthMm: flangePlan?.widthMm ?? 0,
    flangeThicknessMm: flangePlan?.thicknessMm ?? 0,
  };
}

/**
 * Volume of the mould's rubber, mm3: exact to the field over a bare pattern; over scanned rubber what the thickness that
 * the user gives fills inward, by the growth of the area outward (Steiner to the second order).
 */
export function rubberOfMouldMm3(
  plan: PlanDocument,
  { shell, areasMm2, innerMm }: Pick<WorkTables, 'shell' | 'areasMm2' | 'innerMm'>,
): number {
  if (plan.scan.is === 'pattern') {
    return shell.reduce((sum, table) => sum + between(table, 0, innerMm)[0], 0);
  }
  const { rubberMm } = plan.casting;
  if (rubberMm === 0) return 0;
  return shell.reduce((sum, table, region) => {
    const flatMm3 = areasMm2[region] * rubberMm;
    // Outward V(t) = A t + B t2, so inward A t - B t2. B is read no farther out than the table reaches.
    const readMm = Math.min(rubberMm, table.knotMm * (table.knotCount - 1));
    const bendMm = (between(table, 0, readMm)[0] - areasMm2[region] * readMm) / (readMm * readMm);
    return sum + Math.max(LEAST_INWARD_SHARE * flatMm3, flatMm3 - bendMm * rubberMm * rubberMm);
  }, 0);
}

/** Length of all lines along a piece, mm. */
export function lengthOfLines(chains: readonly LineChain[], region: number): number {
  return chains
    .filter((chain) => chain.left === region || chain.right === region)
    .reduce((total, chain) => total + chain.lengthMm, 0);
}
