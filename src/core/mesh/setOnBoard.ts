import { leftCode } from '../plan/leavableRepairs.ts';
import type { ScanPlan } from '../plan/PlanDocument.ts';
import type { UnitSystem } from '../units.ts';
import { type Affine, IDENTITY, mapPoints, shiftUp } from './affine.ts';
import { markCrumbs } from './dropCrumbs.ts';
import { type FoundBoard, findBoard } from './findBoard.ts';
import { type FoundTable, findTable } from './findTable.ts';
import type { Parts } from './labelParts.ts';
import { levelBase } from './levelBase.ts';
import { measureLoop } from './measureLoop.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { sayLength } from './sayLength.ts';
import type { TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

export interface SetOnBoard {
  /** Same triangles, the board at z = 0; what lies below is not yet cut. */
  readonly mesh: TriMesh;
  readonly map: Affine;
  readonly toleranceMm: number;
}

/**
 * Finds or takes the board's height, moves the mesh so that it is z = 0, and levels a slightly uneven base. Noted; marked on the mesh as
 * it was cleaned, in whose frame the notes still are.
 */
export function setOnBoard(
  mesh: TriMesh,
  { mesh: asCleaned, twins, parts }: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  plan: Pick<ScanPlan, 'board' | 'crumbShare' | 'leave'>,
  notes: NoteBook,
): SetOnBoard {
  const { isKept } = markCrumbs(mesh, parts, plan.crumbShare);
  const loops = traceLoops(twins)
    .filter((halfEdges) => isKept[(halfEdges[0] / 3) | 0] !== 0)
    .map((halfEdges) => measureLoop(mesh, halfEdges));
  const found = findBoard(mesh, loops, isKept);
  const seen =
    plan.board === 'auto' && found.loop !== null ? findTable(mesh, twins, found.loop, found) : null;
  const isTableLeft = plan.leave.includes('table-cut-away');
  const table = isTableLeft ? null : seen;
  let heightMm = Math.max(found.heightMm, table?.topMm ?? -Infinity);
  if (plan.board === 'none') heightMm = lowestOf(mesh, isKept);
  else if (plan.board !== 'auto') heightMm = plan.board;
  const map = heightMm === 0 ? IDENTITY : shiftUp(-heightMm);
  const moved: TriMesh = { positions: mapPoints(mesh.positions, map), indices: mesh.indices };
  if (plan.board === 'none') return { mesh: moved, map, toleranceMm: 0 };
  if (plan.board === 'auto' && table === null) sayFound(found, notes);
  if (seen !== null) {
    if (isTableLeft) sayTableLeft(seen, notes);
    else sayTable(seen, notes);
    notes.markedFaces(isTableLeft ? leftCode('table-cut-away') : 'table-cut-away', asCleaned, seen.tris);
  }

  // A base is brought level when the board is the one found under it, or was set there by hand.
  const isThere = Math.abs(heightMm - found.heightMm) <= found.toleranceMm;
  if (!isThere || (found.by !== 'flat' && found.by !== 'loop')) {
    return { mesh: moved, map, toleranceMm: found.toleranceMm };
  }
  const rim: number[] = [];
  for (const loop of loops) {
    const isRim =
      loop.max[2] - heightMm <= 2 * found.toleranceMm && loop.min[2] - heightMm >= -2 * found.toleranceMm;
    if (isRim) for (const e of loop.halfEdges) rim.push(mesh.indices[e]);
  }
  const level = levelBase(moved, 2 * found.toleranceMm, rim);
  // What Float32 files cannot hold is no unevenness worth a note.
  const isUneven = level.farthestMm > FLOAT32_SHARE * Math.abs(heightMm) + NOTE_FROM_MM;
  if (isUneven && plan.leave.includes('base-levelled')) {
    notes.left(
      'base-levelled',
      (system) =>
        `The base is left uneven: ${countOf(level.moved, 'vertex', 'vertices')} off the board by up to ${sayLength(level.farthestMm, system)}. What lies above the board counts as rubber, what lies below is cut off.`,
      level.moved,
    );
    return { mesh: moved, map, toleranceMm: found.toleranceMm };
  }
  if (isUneven) {
    notes.repaired(
      'base-levelled',
      (system) =>
        `${countOf(level.moved, 'vertex', 'vertices')} of the base brought level with the board, by at most ${sayLength(level.farthestMm, system)}.`,
      level.moved,
    );
  }
  return { mesh: level.mesh, map, toleranceMm: found.toleranceMm };
}

/** Relative spacing of Float32 numbers is 1.2e-7. */
const FLOAT32_SHARE = 2.4e-7;
/** Moves below a micrometre are not told. Own choice. */
const NOTE_FROM_MM = 1e-3;

function lowestOf(mesh: TriMesh, isKept: Uint8Array): number {
  let low = Infinity;
  for (let i = 0; i < mesh.indices.length; i++) {
    if (isKept[(i / 3) | 0] !== 0) low = Math.min(low, mesh.positions[3 * mesh.indices[i] + 2]);
  }
  return low;
}

function sayTable(table: FoundTable, notes: NoteBook): void {
  notes.warned(
    'table-cut-away',
    `The table was scanned too: level ground takes ${Math.round(100 * table.cover)} % of the footprint. The board was set on it, at its highest spots, and it was cut away (${countOf(table.faces, 'face')}). Check the height of the board.`,
    table.faces,
  );
}

function sayTableLeft(table: FoundTable, notes: NoteBook): void {
  notes.left(
    'table-cut-away',
    `Level ground that looks like a table (${Math.round(100 * table.cover)} % of the footprint, ${countOf(table.faces, 'face')}) is left in: the board is set by the edge of the scan, and what lies above it counts as rubber.`,
    table.faces,
  );
}

function sayFound(found: FoundBoard, notes: NoteBook): void {
  const ragged = (system: UnitSystem): string => sayLength(found.raggedMm, system);
  switch (found.by) {
    case 'flat':
      notes.repaired('board-found', 'Set on the board by its flat base.');
      break;
    case 'loop':
      notes.repaired('board-found', 'Set on the board by its open foot, which is level.');
      break;
    case 'ragged':
      notes.warned(
        'board-at-ragged-foot',
        (system) =>
          `Its open foot is ragged by ${ragged(system)}. The board was set at the foot's highest point and the scan cut off level there.`,
      );
      break;
    case 'skirt':
      notes.warned(
        'board-under-ragged-foot',
        (system) =>
          `Its open foot is ragged by ${ragged(system)}, too much to cut off. The board was set at the foot's lowest point and the gap closed by a straight skirt. Check the height of the board.`,
      );
      break;
    case 'lowest':
      notes.warned(
        'board-at-lowest-point',
        'Neither a flat base nor an open foot was found; the board was set at the lowest point. Check the height of the board.',
      );
      break;
  }
}
