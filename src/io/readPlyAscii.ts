import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { PlyMesh, SPLITTING_FROM } from './PlyMesh.ts';
import { nameRow, nameRows, type PlyRows, planPlyRows } from './planPlyRows.ts';
import type { PlyHeader } from './plyHeader.ts';
import { TextCursor } from './TextCursor.ts';

/** Rows between two looks at the clock; about 2 ms. */
const ROWS_A_RUN = 8192;

/** A value and what parts it from the next take at least two bytes of a text. */
const LEAST_VALUE_BYTES = 2;

/**
 * Reads the data of an ASCII PLY: one row a line, blank lines passed over, values beyond the ones used passed over
 * unread. Coordinates keep a double's precision. Nothing is welded.
 *
 * Each line must hold exactly what the header promises, so that a lost value cannot shift all that follow.
 * Throws MeshError: truncated, count-mismatch, bad-value, not-finite, index-out-of-range, no-faces, too-large and what
 * `planPlyRows` throws; and the abort reason at a checkpoint.
 */
export async function readPlyAscii(
  bytes: Uint8Array,
  header: PlyHeader,
  checkpoint: Checkpoint,
): Promise<OpenedMesh> {
  const reader = new Reader(bytes, header);
  const reading = checkpoint.within(0, SPLITTING_FROM, 'reading the file');
  while (reader.readRun(ROWS_A_RUN)) {
    if (reading.due()) await reading.pause(reader.cursor.byte / bytes.length);
  }
  return reader.finish(checkpoint.within(SPLITTING_FROM, 1, 'splitting polygons'));
}

function mostRows(elements: readonly PlyRows[], role: PlyRows['role'], bytesLeft: number): number {
  const rows = elements.find((element) => element.role === role);
  if (rows === undefined || rows.columns.length === 0) return 0;
  return Math.min(rows.count, Math.ceil((bytesLeft + 1) / (LEAST_VALUE_BYTES * rows.columns.length)));
}

class Reader {
  readonly cursor: TextCursor;
  private readonly elements: readonly PlyRows[];
  private readonly vertCount: number;
  private readonly mesh: PlyMesh;
  private elementAt = 0;
  private row = 0;

  constructor(bytes: Uint8Array, header: PlyHeader) {
    this.cursor = new TextCursor(bytes, header.bodyAt, header.bodyLine);
    this.elements = planPlyRows(header);
    this.vertCount = this.elements.find(({ role }) => role === 'vertex')!.count;
    // Tables have no more rows than the bytes that are there can hold, whatever the header promises; a file that
    // promises more ends too soon, and is refused there with the number of rows that it has.
    const left = bytes.length - header.bodyAt;
    this.mesh = new PlyMesh(mostRows(this.elements, 'vertex', left), mostRows(this.elements, 'face', left));
  }

  /** Reads up to `maxRows` rows of the present element. False when all elements are read. */
  readRun(maxRows: number): boolean {
    const rows = this.elements[this.elementAt];
    if (rows === undefined) return false;
    // An element without properties has no lines.
    const count = rows.columns.length === 0 ? 0 : rows.count;
    const stop = Math.min(count, this.row + maxRows);
    for (; this.row < stop; this.row++) this.readRow(rows, this.row);
    if (this.row === count) {
      this.elementAt++;
      this.row = 0;
    }
    return true;
  }

  async finish(checkpoint: Checkpoint): Promise<OpenedMesh> {
    const { cursor } = this;
    if (cursor.nextToken()) {
      throw new MeshError(
        'count-mismatch',
        `Line ${cursor.line} stands after all that the header promises, and begins with ${cursor.quote()}: the header's ` +
          'counts are too low. Export the scan again.',
        { line: cursor.line, byte: cursor.from },
      );
    }
    const facesLine = this.elements.find(({ role }) => role === 'face')?.line;
    return { ...(await this.mesh.finish(facesLine, checkpoint)), format: 'PLY ASCII' };
  }

  private readRow(rows: PlyRows, row: number): void {
    const { cursor, mesh } = this;
    const { columns } = rows;
    // The first value may stand after blank lines; the others stand on its line.
    if (!cursor.nextToken()) this.refuseEnd(rows, row);
    let hasToken = true;
    for (let c = 0; c < columns.length; c++) {
      const column = columns[c];
      if (!hasToken) this.expectOnLine(rows, row);
      hasToken = false;
      if (column.countType === undefined) {
        if (column.slot === 'skip') continue;
        const axis = column.slot === 'x' ? 0 : column.slot === 'y' ? 1 : 2;
        // Adding 0 turns -0 into 0.
        mesh.positions[3 * row + axis] = cursor.readNumber('vertex', row) + 0;
        continue;
      }
      const size = cursor.readNumber(rows.role === 'other' ? `row of ${rows.label}` : rows.role, row);
      if (!Number.isInteger(size) || size < 0) this.refuseListSize(rows, row);
      if (size * LEAST_VALUE_BYTES - 1 > cursor.bytes.length - cursor.byte) this.refuseLine(rows, row);
      if (column.slot === 'corners') mesh.beginFace(size);
      for (let i = 0; i < size; i++) {
        this.expectOnLine(rows, row);
        if (column.slot !== 'corners') continue;
        const vert = cursor.readNumber('face', row);
        if (!(vert >= 0 && vert < this.vertCount)) this.refuseIndex(vert, i, row);
        if (!Number.isInteger(vert)) this.refuseFraction(i, row);
        mesh.addCorner(vert);
      }
    }
    if (cursor.nextTokenOnLine()) this.refuseExtra(rows, row);
  }

  private expectOnLine(rows: PlyRows, row: number): void {
    if (!this.cursor.nextTokenOnLine()) this.refuseLine(rows, row);
  }

  private refuseEnd(rows: PlyRows, row: number): never {
    const { cursor } = this;
    const hasFaces = this.elements.some(({ role, count }) => role === 'face' && count > 0);
    throw new MeshError(
      'truncated',
      `The file ends at byte ${cursor.bytes.length} (line ${cursor.line}): the header promises ` +
        `${nameRows(rows, rows.count)} and ${row} are there. ` +
        `${hasFaces ? '' : 'It declares no faces either: a point cloud, not a surface. '}Copy or export the scan again.`,
      { byte: cursor.bytes.length, line: cursor.line, index: row },
    );
  }

  private refuseLine(rows: PlyRows, row: number): never {
    const { cursor } = this;
    const { line } = cursor;
    // Whether the file was cut inside this line, or the line is short.
    if (!cursor.nextLine() || !cursor.nextToken()) this.refuseEnd(rows, row);
    throw new MeshError(
      'count-mismatch',
      `Line ${line}: ${nameRow(rows, row)} holds fewer values than the header promises. Export the scan again.`,
      { line, index: row },
    );
  }

  private refuseExtra(rows: PlyRows, row: number): never {
    const { cursor } = this;
    throw new MeshError(
      'count-mismatch',
      `Line ${cursor.line}: ${nameRow(rows, row)} holds more values than the header promises, from ` +
        `${cursor.quote()} on; or the count of ${nameRows(rows, rows.count)} is too high. Export the scan again.`,
      { line: cursor.line, byte: cursor.from, index: row },
    );
  }

  private refuseListSize(rows: PlyRows, row: number): never {
    const { cursor } = this;
    throw new MeshError(
      'bad-value',
      `Line ${cursor.line}: ${nameRow(rows, row)} has a list of ${cursor.quote()} items. Export the scan again.`,
      { line: cursor.line, byte: cursor.from, index: row },
    );
  }

  private refuseIndex(vert: number, corner: number, row: number): never {
    const { cursor } = this;
    throw new MeshError(
      'index-out-of-range',
      `Line ${cursor.line}: face ${row}, corner ${corner} names vertex ${vert}; the file has ${this.vertCount}, ` +
        'numbered from 0. Export the scan again.',
      { line: cursor.line, byte: cursor.from, index: row },
    );
  }

  private refuseFraction(corner: number, row: number): never {
    const { cursor } = this;
    throw new MeshError(
      'bad-value',
      `Line ${cursor.line}: face ${row}, corner ${corner} names vertex ${cursor.quote()}, which is not a whole number. ` +
        'Export the scan again.',
      { line: cursor.line, byte: cursor.from, index: row },
    );
  }
}
