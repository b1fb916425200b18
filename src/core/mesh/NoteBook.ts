import type { ScanNote } from '../PlanResult.ts';
import { sayBoth } from '../sayBoth.ts';
import type { UnitSystem } from '../units.ts';

/** A sentence; one that holds a quantity says it in the units asked for. */
type Say = string | ((system: UnitSystem) => string);

/** Where something was found, in the frame of the moment: a polyline of a loop, or loose points. */
export interface FoundMark {
  readonly code: string;
  readonly points: Float64Array;
  readonly isLoop: boolean;
}

/** Gathers what was found and what was changed while a scan is put right, in the order in which it happened. */
export class NoteBook {
  readonly repairs: ScanNote[] = [];
  readonly warnings: ScanNote[] = [];
  /** In the frame of `moveMarks` last called; see there. */
  marks: FoundMark[] = [];

  /** Notes a change, unless its count is 0. */
  repaired(code: string, say: Say, count?: number): void {
    if (count !== 0) this.repairs.push(noteOf(code, say, count));
  }

  /** Notes what the user must know or decide, unless its count is 0. */
  warned(code: string, say: Say, count?: number): void {
    if (count !== 0) this.warnings.push(noteOf(code, say, count));
  }

  marked(code: string, points: Float64Array, isLoop: boolean): void {
    if (points.length > 0) this.marks.push({ code, points, isLoop });
  }

  /** Carries all marks so far along when the mesh is moved. */
  moveMarks(move: (points: Float64Array) => Float64Array): void {
    this.marks = this.marks.map((mark) => ({ ...mark, points: move(mark.points) }));
  }
}

function noteOf(code: string, say: Say, count: number | undefined): ScanNote {
  const said = typeof say === 'string' ? { text: say } : sayBoth('text', say);
  return count === undefined ? { code, ...said } : { code, ...said, count };
}

/** "1 face", "12 faces". */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en')} ${count === 1 ? one : many}`;
}
