import type { ScanNote } from '../PlanResult.ts';
import { type LeavableRepair, leftCode } from '../plan/leavableRepairs.ts';
import { sayBoth } from '../sayBoth.ts';
import { groupDigits, type UnitSystem } from '../units.ts';
import type { ScanMark } from './PreparedScan.ts';
import { patchesOf, thinSpots } from './patchesOf.ts';
import type { TriMesh } from './TriMesh.ts';

/** A sentence; one that holds a quantity says it in the units asked for. */
type Say = string | ((system: UnitSystem) => string);

/** Gathers what was found and what was changed while a scan is put right, in the order in which it happened. */
export class NoteBook {
  readonly repairs: ScanNote[] = [];
  readonly warnings: ScanNote[] = [];
  /** In the frame of `moveMarks` last called; see there. */
  marks: ScanMark[] = [];

  /** Notes a change, unless its count is 0. */
  repaired(code: string, say: Say, count?: number): void {
    if (count !== 0) this.repairs.push(noteOf(code, say, count));
  }

  /** Notes what the user must know or decide, unless its count is 0. */
  warned(code: string, say: Say, count?: number): void {
    if (count !== 0) this.warnings.push(noteOf(code, say, count));
  }

  /** Notes what a repair would have done and the plan leaves undone, among what the user must know, unless its count is 0. */
  left(repair: LeavableRepair, say: Say, count: number): void {
    this.warned(leftCode(repair), say, count);
  }

  /** Marks loose points (evenly picked ones when they are many), with the edges that they are the middles of. */
  markedSpots(code: string, points: Float64Array, edges?: Float64Array): void {
    if (points.length > 0)
      this.marks.push({ code, points: thinSpots(points), isLoop: false, ...(edges && { edges }) });
  }

  /** Marks a loop by its outline, n x 3, with the faces (n x 9) that were laid into it. */
  markedLoop(code: string, points: Float64Array, tris?: Float64Array): void {
    if (points.length > 0) this.marks.push({ code, points, isLoop: true, ...(tris && { tris }) });
  }

  /** Marks faces of a mesh by their numbers, patch by patch. */
  markedFaces(code: string, mesh: TriMesh, tris: ArrayLike<number>): void {
    for (const mark of patchesOf(code, mesh, tris)) this.marks.push(mark);
  }

  /** Carries all marks so far along when the mesh is moved. */
  moveMarks(move: (points: Float64Array) => Float64Array): void {
    this.marks = this.marks.map((mark) => ({
      ...mark,
      points: move(mark.points),
      ...(mark.tris && { tris: move(mark.tris) }),
      ...(mark.edges && { edges: move(mark.edges) }),
    }));
  }
}

function noteOf(code: string, say: Say, count: number | undefined): ScanNote {
  const said = typeof say === 'string' ? { text: say } : sayBoth('text', say);
  return count === undefined ? { code, ...said } : { code, ...said, count };
}

/** "1 face", "12 faces". */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${groupDigits(String(count))} ${count === 1 ? one : many}`;
}
