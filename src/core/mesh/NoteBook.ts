import type { ScanNote } from '../PlanResult.ts';

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
  repaired(code: string, text: string, count?: number): void {
    if (count === 0) return;
    this.repairs.push(count === undefined ? { code, text } : { code, text, count });
  }

  /** Notes what the user must know or decide, unless its count is 0. */
  warned(code: string, text: string, count?: number): void {
    if (count === 0) return;
    this.warnings.push(count === undefined ? { code, text } : { code, text, count });
  }

  marked(code: string, points: Float64Array, isLoop: boolean): void {
    if (points.length > 0) this.marks.push({ code, points, isLoop });
  }

  /** Carries all marks so far along when the mesh is moved. */
  moveMarks(move: (points: Float64Array) => Float64Array): void {
    this.marks = this.marks.map((mark) => ({ ...mark, points: move(mark.points) }));
  }
}

/** "1 face", "12 faces". */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en')} ${count === 1 ? one : many}`;
}
