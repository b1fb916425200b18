import { DEFAULT_FILLER, DEFAULT_MATERIAL, DEFAULT_RUBBER } from '../material/builtInMaterials.ts';
import { DEFAULT_WORK } from './defaultWork.ts';
import type { CoatPlan, FlangePlan, PlanDocument } from './PlanDocument.ts';
import { plainCoat } from './plainCoat.ts';

/** Four coats, 9.5 mm (3/8 in) in all: common practice, no source. */
export const DEFAULT_COATS: readonly CoatPlan[] = [
  plainCoat('Face', 'face', 1.5),
  plainCoat('Build', 'build', 2.5),
  plainCoat('Reinforced', 'reinforced', 3.5),
  plainCoat('Finish', 'finish', 2),
];

/** Room for a clamp or a bolt and its washer: common practice, no source. */
export const DEFAULT_FLANGE: FlangePlan = { widthMm: 40, thicknessMm: 12 };

/** A brushed wall of soft rubber yields a millimetre or two at an undercut: common practice, no source; to be set by the user's own feel. */
export const DEFAULT_RUBBER_GIVE_MM = 1.5;

/** Rubber wall when the scan is the bare pattern: 3/8 to 1/2 in is told on workshop pages; the lower is taken. */
const DEFAULT_RUBBER_MM = 9.5;
/** Parts smaller than one percent of the largest are crumbs of the scan, not limbs: common practice, no source. */
const DEFAULT_CRUMB_SHARE = 0.01;
/** Holes up to a thumb's girth are gaps of the scan; larger ones may be meant. Own choice. */
const DEFAULT_FILL_HOLES_TO_MM = 60;
/** About two thirds of the default shell: common practice, no source. */
const DEFAULT_LEAST_THICKNESS_MM = 6;

/** A small trowel's or a palette knife's bend over the outside: own choice. */
export const DEFAULT_TROWEL_RADIUS_MM = 30;

/** The plan with which a scan is opened first: everything about the scan found out, two pieces, four coats. */
export function newPlan(fileName: string): PlanDocument {
  return {
    schema: 'scute-plan/5',
    job: { name: nameFromFile(fileName), shop: '' },
    scan: {
      file: fileName,
      unit: 'auto',
      scale: 1,
      up: 'auto',
      turnDeg: 0,
      tiltDeg: [0, 0],
      board: 'auto',
      crops: [],
      crumbShare: DEFAULT_CRUMB_SHARE,
      fillHolesToMm: DEFAULT_FILL_HOLES_TO_MM,
      leave: [],
      is: 'rubber',
      rubberMm: DEFAULT_RUBBER_MM,
      keepClear: [],
    },
    parting: {
      pieceCount: 2,
      pullAzimuthsDeg: 'auto',
      lines: 'auto',
      pieces: [],
      flange: DEFAULT_FLANGE,
      rubberGiveMm: DEFAULT_RUBBER_GIVE_MM,
      notHere: [],
      blockOut: [],
    },
    coats: DEFAULT_COATS,
    material: DEFAULT_MATERIAL,
    otherMaterials: [],
    rubber: DEFAULT_RUBBER,
    filler: DEFAULT_FILLER,
    ...DEFAULT_WORK,
    resolutionMm: 'auto',
    leastThicknessMm: DEFAULT_LEAST_THICKNESS_MM,
    trowelRadiusMm: DEFAULT_TROWEL_RADIUS_MM,
  };
}

/** "garden-bust_02.stl" -> "garden bust 02". */
function nameFromFile(fileName: string): string {
  return fileName
    .replace(/\.[^.]*$/, '')
    .replace(/[-_]+/g, ' ')
    .trim()
    .slice(0, 200);
}
