import { innerDistanceMm } from '../assembleResult.ts';
import type { Checkpoint } from '../checkpoint.ts';
import type { PlanRun } from '../computePlan.ts';
import { PlanError } from '../errors.ts';
import type { Field } from '../FieldLadder.ts';
import { buildBandField } from '../field/buildBandField.ts';
import { affordCellMm } from '../field/chooseCell.ts';
import { sideOfPieces } from '../field/sideOfPieces.ts';
import { signedVolume } from '../mesh/measure.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { buildWallGrid } from '../parting/buildWallGrid.ts';
import { ballsOf } from '../plan/ballsOf.ts';
import { closeSolid } from './closeSolid.ts';
import { flangeNodes } from './flangeNodes.ts';
import { marchTets, type NodeField } from './marchTets.ts';
import { shellNodes } from './shellNodes.ts';

/** A shell piece, coats and flange, as one closed solid. */
export interface PieceSolid {
  readonly id: string;
  readonly name: string;
  /** Board frame, mm, wound outward; every coordinate is a number of single precision. */
  readonly mesh: TriMesh;
  readonly volumeMm3: number;
  /** The plan's own volume of the piece, mm3. */
  readonly plannedMm3: number;
}

export interface PieceSolids {
  readonly pieces: readonly PieceSolid[];
  /** Cells that the coats were contoured on, mm: the plan's own, or twice as large when those gave too many triangles. */
  readonly cellMm: number;
  readonly isCoarser: boolean;
}

/** What is read of a plan that is worked out. */
export type SolidRun = Pick<
  PlanRun,
  'plan' | 'result' | 'scan' | 'source' | 'parting' | 'field' | 'lookField' | 'wall'
>;

/** More triangles a piece are too many for a file: 50 MB. */
const MOST_TRIS = 1e6;
/** Cells of the flange's grid to its thickness: its edges are cut off by about one. */
const FLANGE_CELLS = 6;
/** How far the flange reaches into the coats, in the larger of the two's cells. */
const OVERLAP_CELLS = 2.5;
/** Parts and hollows of less than this many cells are crumbs of the contouring, which nobody can lay. */
const CRUMB_CELLS = 8;
/** Flat parts are drawn with fewer triangles, as long as no place moves by more than this share of a cell; as much as the march moves places itself. */
const SLACK_CELLS = 0.01;

/**
 * Every piece of the shell as one closed solid, clipped at the board. Coats and flange are contoured by marching tetrahedra, so
 * that each is closed by construction, then joined and cut at z = 0 by manifold-3d, then looked over.
 *
 * Second order in the cells, but sharp edges are cut off by up to a cell. Where two pieces meet the faces coincide to a
 * hundredth of a cell or two; where
 * the shell would run into itself or its flange into coats, a solid holds that place once and the plan's sums twice.
 * A flange is shared out by the nearest rubber, as the coats are, and in the plan's sums by the wall's own two sides: where the
 * line bends much one piece's solid has a few percent more than its sum, and the other as much less.
 *
 * @throws PlanError 'bad-plan' -> a piece gives no closed solid; names it.
 * Cost: for the demo plan (two pieces of 0.26 million triangles) 20 to 30 s on two busy cores; the process then holds 0.8 GB.
 */
export async function pieceSolids(run: SolidRun, cp: Checkpoint): Promise<PieceSolids> {
  const flanges = await flangeMeshes(run, cp.within(0, 0.3, 'making the solids'));
  const contouring = cp.within(0.3, 0.7, 'making the solids');
  // All pieces from one field: only then do their faces meet.
  const fine = await coatMeshes(run, run.field, MOST_TRIS, contouring);
  const coats = fine ?? (await coatMeshes(run, run.lookField, Infinity, contouring));
  if (coats === null) throw new Error('A march without a limit has an end.');
  const { cellMm } = fine === null ? run.lookField : run.field;
  const pieces: PieceSolid[] = [];
  for (const [region, { id, name, volumeMm3: plannedMm3 }] of run.result.pieces.entries()) {
    const fail = (said: string): PlanError => notClosed(id, name, said);
    const bodies = [coats[region], flanges[region]].filter((mesh) => mesh && mesh.indices.length > 0);
    const crumbMm3 = CRUMB_CELLS * cellMm ** 3;
    const slackMm = SLACK_CELLS * cellMm;
    const mesh = await closeSolid(bodies, run.source.standsOnBoard, crumbMm3, slackMm, fail);
    pieces.push({ id, name, mesh, volumeMm3: signedVolume(mesh), plannedMm3 });
    await cp.pause(0.7 + (0.3 * (region + 1)) / run.result.pieces.length);
  }
  return { pieces, cellMm, isCoarser: fine === null };
}

/** The coats of every piece, or null when one takes more triangles than allowed. */
async function coatMeshes(
  run: SolidRun,
  field: Field,
  mostTris: number,
  cp: Checkpoint,
): Promise<readonly TriMesh[] | null> {
  const { plan, source, parting } = run;
  const innerMm = innerDistanceMm(plan);
  const outerMm = innerMm + run.result.shell.thicknessMm;
  const side = await sideOfPieces(
    field.grid,
    source,
    parting.cut,
    [],
    cp.within(0, 0.4, 'making the solids'),
  );
  const nodesOf = shellNodes(field, source, innerMm, outerMm, side, ballsOf(plan.scan.keepClear));
  return marchRegions(run, nodesOf, mostTris, cp.within(0.4, 1, 'making the solids'));
}

/** The flange of every piece from a little inside its coats on; empty when the plan has none. */
async function flangeMeshes(run: SolidRun, cp: Checkpoint): Promise<readonly TriMesh[]> {
  const { plan, source, parting, wall, scan } = run;
  const { flange } = plan.parting;
  const innerMm = innerDistanceMm(plan);
  const { thicknessMm: coatsMm } = run.result.shell;
  if (!wall || wall.left.length === 0 || !flange || flange.widthMm <= coatsMm) return [];
  const outerMm = innerMm + coatsMm;
  const toMm = innerMm + flange.widthMm;
  const cellMm = affordCellMm(flange.thicknessMm / FLANGE_CELLS, run.result.rubber.areaMm2, toMm);
  // A cell more than the flange, so that both ends of every edge that its surface crosses are known.
  const farMm = toMm + cellMm;
  const far = await buildBandField(
    source,
    cellMm,
    farMm,
    scan.volumeMm3 !== null,
    cp.within(0, 0.5, 'making the solids'),
  );
  const wallGrid = await buildWallGrid(
    far,
    wall,
    flange.thicknessMm + cellMm,
    cp.within(0.5, 0.65, 'making the solids'),
  );
  const side = await sideOfPieces(far, source, parting.cut, [], cp.within(0.65, 0.75, 'making the solids'));
  // Well into the coats: along the line the coats' upper edge and the flange's lower one are cut off by up to a cell each, and
  // between them no gap may be left.
  const overlapMm = OVERLAP_CELLS * Math.max(cellMm, run.lookField.cellMm);
  const fromMm = Math.max(innerMm, outerMm - overlapMm);
  const nodesOf = flangeNodes(
    source,
    far,
    farMm,
    wallGrid,
    side,
    flange.thicknessMm,
    fromMm,
    toMm,
    ballsOf(plan.scan.keepClear),
  );
  return (await marchRegions(run, nodesOf, Infinity, cp.within(0.75, 1, 'making the solids'))) ?? [];
}

async function marchRegions(
  { parting }: SolidRun,
  nodesOf: (region: number) => NodeField,
  mostTris: number,
  cp: Checkpoint,
): Promise<readonly TriMesh[] | null> {
  const out: TriMesh[] = [];
  const { regionCount } = parting.cut;
  for (let region = 0; region < regionCount; region++) {
    const part = cp.within(region / regionCount, (region + 1) / regionCount, 'making the solids');
    const mesh = await marchTets(nodesOf(region), mostTris, part);
    if (mesh === null) return null;
    out.push(mesh);
  }
  return out;
}

function notClosed(id: string, name: string, said: string): PlanError {
  return new PlanError(
    'bad-plan',
    `Piece ${id} (${name}) gives no closed solid (${said}), so that no files of the pieces can be written. Choose another resolution or move its lines a little, or leave the solids out; the plan itself stands.`,
    'resolutionMm',
  );
}
