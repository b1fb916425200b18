import type { ScanPlan, UpAxis } from '../plan/PlanDocument.ts';
import { uprightTurnTilt } from '../plan/uprightTurnTilt.ts';
import { type Affine, mapPoints } from './affine.ts';
import { markCrumbs } from './dropCrumbs.ts';
import { findUp } from './findUp.ts';
import type { Parts } from './labelParts.ts';
import { measureLoop } from './measureLoop.ts';
import type { NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

/** The mesh upright along z, turned and tilted as the plan says, and the map that did it. An up axis found out is noted. */
export function standUpright(
  { mesh, twins, parts }: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  plan: Pick<ScanPlan, 'up' | 'turnDeg' | 'tiltDeg' | 'crumbShare'>,
  notes: NoteBook,
): { mesh: TriMesh; map: Affine; up: UpAxis } {
  const up = plan.up === 'auto' ? findAxis(mesh, twins, parts, plan.crumbShare, notes) : plan.up;
  const map = uprightTurnTilt(up, plan.turnDeg, plan.tiltDeg);
  return { mesh: { positions: mapPoints(mesh.positions, map), indices: mesh.indices }, map, up };
}

function findAxis(
  mesh: TriMesh,
  twins: Int32Array,
  parts: Parts,
  crumbShare: number,
  notes: NoteBook,
): UpAxis {
  const loops = traceLoops(twins).map((halfEdges) => measureLoop(mesh, halfEdges));
  const { isKept } = markCrumbs(mesh, parts, crumbShare);
  const found = findUp(mesh, loops, isKept);
  switch (found.by) {
    case 'base':
      notes.repaired('up-found', `Stood upright along ${found.up} of the file, by its flat base.`);
      break;
    case 'loop':
      notes.repaired('up-found', `Stood upright along ${found.up} of the file, by its open foot.`);
      break;
    case 'underside':
      notes.warned(
        'up-guessed',
        `Neither a flat base nor an open foot tells which way is up; stood on its largest underside, ${found.up} of the file upright. Turn it if it does not stand.`,
      );
      break;
    case 'guess':
      notes.warned(
        'up-guessed',
        `Neither a flat base nor an open foot tells which way is up; taken as ${found.up} of the file. Turn it if it does not stand.`,
      );
      break;
  }
  return found.up;
}
