import type { Checkpoint } from '../checkpoint.ts';
import type { ScanNote } from '../PlanResult.ts';
import type { LeavableRepair } from '../plan/leavableRepairs.ts';
import type { LengthUnit, ScanPlan } from '../plan/PlanDocument.ts';
import { composeAffine, mapPoints } from './affine.ts';
import { applyUnit } from './applyUnit.ts';
import { cleanSurface } from './cleanSurface.ts';
import { clipAtBoard } from './clipAtBoard.ts';
import { closeHoles } from './closeHoles.ts';
import { cropAway } from './cropAway.ts';
import { describeFile } from './describeFile.ts';
import { dropCrumbs } from './dropCrumbs.ts';
import { dropInner } from './dropInner.ts';
import { finishScan } from './finishScan.ts';
import { NoteBook } from './NoteBook.ts';
import type { PreparedScan } from './PreparedScan.ts';
import { setOnBoard } from './setOnBoard.ts';
import { standUpright } from './standUpright.ts';
import type { TriMesh } from './TriMesh.ts';
import { warnOfSides } from './warnOfSides.ts';
import { warnOfTable } from './warnOfTable.ts';

/**
 * The scan put right: in millimetres, welded, repaired, wound outward, upright, cropped, standing on its board at z = 0.
 * Every change is a note in `report.repairs`, everything the user must know or decide one in `report.warnings`, with what
 * `scanPlan.leave` leaves undone (codes 'left-...').
 *
 * `mesh`: as the file has it, in its own unit and axes; not changed. `fileNotes`: what the reader had to say.
 * `fileUnit`: the unit that the file names, which holds where the plan leaves it open.
 * Throws MeshError: no-faces, degenerate (no face has an area), below-board (nothing above the board); and the abort
 * reason at the checkpoints between the steps. Cost: O(n), about half a second for a million triangles that need no mending, twice that where they do.
 */
export async function prepareScan(
  mesh: TriMesh,
  scanPlan: ScanPlan,
  fileNotes: readonly ScanNote[],
  cp: Checkpoint,
  fileUnit?: LengthUnit,
): Promise<PreparedScan> {
  const notes = new NoteBook();
  const leaves = (repair: LeavableRepair): boolean => scanPlan.leave.includes(repair);
  for (const note of fileNotes) notes.warned(note.code, note.text, note.count);

  const file = describeFile(mesh);
  await cp.pause(0.2);
  const sized = applyUnit(file, scanPlan, notes, fileUnit);
  const clean = cleanSurface(sized.mesh, file, notes);
  await cp.pause(0.55);

  const upright = standUpright(clean, scanPlan, notes);
  const onBoard = setOnBoard(upright.mesh, clean, scanPlan, notes);
  const toFrame = composeAffine(onBoard.map, upright.map);
  notes.moveMarks((points) => mapPoints(points, toFrame));
  await cp.pause(0.65);

  const standsOnBoard = scanPlan.board !== 'none';
  const cropped = cropAway(
    { ...clean, mesh: onBoard.mesh },
    scanPlan.crops,
    sized.snapMm,
    standsOnBoard,
    leaves('cut-closed'),
    notes,
  );
  const areCrumbsLeft = leaves('crumbs-dropped');
  const whole = dropCrumbs(cropped, scanPlan.crumbShare, notes, 'crumbs-dropped', {
    isLeft: areCrumbsLeft,
    onlyOnBoard: false,
  });
  const above = standsOnBoard
    ? clipAtBoard(whole, sized.snapMm, leaves('skirt-added'), notes)
    : { ...whole, skirtAreaMm2: 0 };
  await cp.pause(0.75);

  // Cutting can leave flakes of its own standing on the board.
  const solid = dropCrumbs(above, scanPlan.crumbShare, notes, 'flakes-dropped', {
    isLeft: leaves('flakes-dropped'),
    onlyOnBoard: areCrumbsLeft,
  });
  const outer = dropInner(solid, standsOnBoard, leaves('inner-parts-dropped'), notes);
  const closed = closeHoles(outer, scanPlan.fillHolesToMm, standsOnBoard, leaves('holes-filled'), notes);
  if (standsOnBoard) warnOfTable(closed.mesh, whole.crumbTops, notes);
  if (closed.left.length > 0) warnOfSides(closed.mesh, standsOnBoard, outer.left?.isOuter, notes);
  await cp.pause(0.9);

  return finishScan({
    file,
    closed,
    notes,
    standsOnBoard,
    unit: sized.unit,
    mmPerFileUnit: sized.mmPerFileUnit,
    up: upright.up,
    innerAreaMm2: outer.left?.areaMm2 ?? 0,
    filledAreaMm2: closed.filledAreaMm2 + above.skirtAreaMm2,
    fileToBoard: composeAffine(toFrame, sized.map),
  });
}
