import { MeshError } from '../errors.ts';
import { MM_PER_UNIT } from '../plan/lengthUnits.ts';
import type { LengthUnit, ScanPlan } from '../plan/PlanDocument.ts';
import { type Affine, mapPoints, scaleBy } from './affine.ts';
import type { FileSurface } from './describeFile.ts';
import { guessUnit, sayFileUnit, sayGuessedUnit } from './guessUnit.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/** Files hold Float32 numbers as a rule: points this share of the size from a plane were meant to lie in it. */
const SNAP_SHARE = 2e-7;

export interface Sized {
  readonly mesh: TriMesh;
  readonly unit: LengthUnit;
  readonly mmPerFileUnit: number;
  readonly map: Affine;
  /** Distance below which a vertex counts as lying in a cutting plane, mm. */
  readonly snapMm: number;
}

/**
 * The mesh in millimetres by the plan's unit and scale. Where the plan leaves the unit open it is the file's own, or guessed
 * from the size when the file names none (`fileUnit` left out); either is said in the warnings.
 */
export function applyUnit(
  file: FileSurface,
  plan: Pick<ScanPlan, 'unit' | 'scale'>,
  notes: NoteBook,
  fileUnit?: LengthUnit,
): Sized {
  const largest = Math.max(...file.size);
  if (!(largest > 0) || !Number.isFinite(largest)) {
    throw new MeshError('degenerate', 'All points of the scan lie in one spot. Export it again.');
  }
  const scaled = largest * plan.scale;
  const unit = plan.unit === 'auto' ? (fileUnit ?? guessUnit(scaled)) : plan.unit;
  if (plan.unit === 'auto') {
    if (fileUnit === undefined) notes.warned('unit-guessed', sayGuessedUnit(scaled, unit));
    else notes.warned('unit-from-file', sayFileUnit(scaled, unit));
  }
  notes.repaired(
    'welded',
    `${countOf(file.welded, 'vertex', 'vertices')} in the same place as another welded to it.`,
    file.welded,
  );
  const mmPerFileUnit = MM_PER_UNIT[unit] * plan.scale;
  const map = scaleBy(mmPerFileUnit);
  const mesh =
    mmPerFileUnit === 1
      ? file.mesh
      : { positions: mapPoints(file.mesh.positions, map), indices: file.mesh.indices };
  return { mesh, unit, mmPerFileUnit, map, snapMm: SNAP_SHARE * largest * mmPerFileUnit };
}
