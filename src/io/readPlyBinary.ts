import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { PlyMesh, SPLITTING_FROM } from './PlyMesh.ts';
import { nameRow, nameRows, type PlyRows, planPlyRows } from './planPlyRows.ts';
import type { PlyHeader } from './plyHeader.ts';
import { readPlyScalar } from './plyScalar.ts';

/** Rows between two looks at the clock; about 2 ms. */
const ROWS_A_RUN = 16384;

/**
 * Reads the data of a binary PLY in either byte order: elements in any order, any properties and lists beside the ones
 * used, vertices at a double's precision, faces of any number of corners. Nothing is welded.
 *
 * Throws MeshError: truncated, bad-value, not-finite, index-out-of-range, no-faces, too-large and what `planPlyRows`
 * throws; and the abort reason at a checkpoint.
 */
export async function readPlyBinary(
  bytes: Uint8Array,
  header: PlyHeader,
  checkpoint: Checkpoint,
): Promise<OpenedMesh> {
  const reader = new Reader(bytes, header);
  const reading = checkpoint.within(0, SPLITTING_FROM, 'reading the file');
  while (reader.readRun(ROWS_A_RUN)) {
    if (reading.due()) await reading.pause(reader.at / bytes.length);
  }
  return reader.finish(checkpoint.within(SPLITTING_FROM, 1, 'splitting polygons'));
}

/** Bytes of a face that is a triangle, its other lists empty. */
function triangleBytes(faces: PlyRows): number {
  const corners = faces.columns.find(({ slot }) => slot === 'corners');
  return faces.leastBytes + 3 * (corners?.typeBytes ?? 1);
}

class Reader {
  /** Byte where reading goes on. */
  at: number;
  private readonly view: DataView;
  private readonly end: number;
  private readonly isLittleEndian: boolean;
  private readonly elements: readonly PlyRows[];
  private readonly vertCount: number;
  private readonly hasFaces: boolean;
  private collected: PlyMesh | undefined;
  private elementAt = 0;
  private row = 0;

  constructor(bytes: Uint8Array, header: PlyHeader) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.at = header.bodyAt;
    this.end = bytes.length;
    this.isLittleEndian = header.format === 'binary_little_endian';
    this.elements = planPlyRows(header);
    this.vertCount = this.elements.find(({ role }) => role === 'vertex')!.count;
    this.hasFaces = this.elements.some(({ role, count }) => role === 'face' && count > 0);
  }

  /** Reads up to `maxRows` rows of the present element. False when all elements are read. */
  readRun(maxRows: number): boolean {
    const rows = this.elements[this.elementAt];
    if (rows === undefined) return false;
    if (this.row === 0) this.refuseWhenShort(rows);
    const stop = Math.min(rows.count, this.row + maxRows);
    if (rows.role === 'other' && !rows.hasLists) {
      this.at += rows.count * rows.leastBytes;
      this.row = rows.count;
    } else {
      this.mesh();
      for (; this.row < stop; this.row++) this.readRow(rows, this.row);
    }
    if (this.row === rows.count) {
      this.elementAt++;
      this.row = 0;
    }
    return true;
  }

  async finish(checkpoint: Checkpoint): Promise<OpenedMesh> {
    const facesLine = this.elements.find(({ role }) => role === 'face')?.line;
    const { mesh, notes } = await this.mesh().finish(facesLine, checkpoint);
    const trailingBytes = this.end - this.at;
    if (trailingBytes > 0) {
      notes.push({
        code: 'trailing-bytes',
        text: `${trailingBytes} bytes after the last element were passed over.`,
        count: trailingBytes,
      });
    }
    return { mesh, format: `PLY binary ${this.isLittleEndian ? 'little' : 'big'}-endian`, notes };
  }

  /**
   * Tables are made when the first row is about to be read. Their size follows the bytes that are left, not only the
   * counts promised; faces are taken for triangles, and their table grows when they are larger.
   */
  private mesh(): PlyMesh {
    if (this.collected === undefined) {
      const left = this.end - this.at;
      const vertices = this.elements.find(({ role }) => role === 'vertex')!;
      if (vertices.count * vertices.leastBytes > left) this.refuseCount(vertices, left);
      const faces = this.elements.find(({ role }) => role === 'face');
      const faceRows =
        faces === undefined ? 0 : Math.min(faces.count, Math.floor(left / triangleBytes(faces)));
      this.collected = new PlyMesh(this.vertCount, faceRows);
    }
    return this.collected;
  }

  /** Refuses an element of rows of one size that are more than the bytes left can hold; with lists only reading can tell. */
  private refuseWhenShort(rows: PlyRows): void {
    const left = this.end - this.at;
    if (!rows.hasLists && rows.count * rows.leastBytes > left) this.refuseCount(rows, left);
  }

  private refuseCount(rows: PlyRows, left: number): never {
    const present = Math.floor(left / rows.leastBytes);
    throw new MeshError(
      'truncated',
      `The file ends at byte ${this.end}: the header promises ${nameRows(rows, rows.count)} from byte ${this.at} ` +
        `on, and ${rows.hasLists ? 'at most ' : ''}${present} are there. ${this.countsText()}Copy or export the scan again.`,
      { byte: this.end, index: present },
    );
  }

  private refuseEndInRow(rows: PlyRows, row: number): never {
    throw new MeshError(
      'truncated',
      `The file ends at byte ${this.end}, inside ${nameRow(rows, row)}: the header promises ${nameRows(rows, rows.count)} ` +
        `and ${row} whole ones are there. ${this.countsText()}Copy or export the scan again.`,
      { byte: this.end, index: row },
    );
  }

  private countsText(): string {
    return !this.hasFaces ? 'It declares no faces either: a point cloud, not a surface. ' : '';
  }

  private readRow(rows: PlyRows, row: number): void {
    const { view, end, isLittleEndian } = this;
    const { columns } = rows;
    const mesh = this.collected!;
    let at = this.at;
    if (at + rows.leastBytes > end) this.refuseEndInRow(rows, row);
    for (let c = 0; c < columns.length; c++) {
      const column = columns[c];
      if (column.countType === undefined) {
        // Only after a list can a value lie beyond the end: the row's fixed bytes were seen to be there.
        if (at + column.typeBytes > end) this.refuseEndInRow(rows, row);
        if (column.slot !== 'skip') {
          const value = readPlyScalar(view, at, column.type, isLittleEndian);
          if (value * 0 !== 0) this.refuseNotFinite(value, column.slot, at, row);
          const axis = column.slot === 'x' ? 0 : column.slot === 'y' ? 1 : 2;
          // Adding 0 turns -0 into 0.
          mesh.positions[3 * row + axis] = value + 0;
        }
        at += column.typeBytes;
        continue;
      }
      if (at + column.countBytes > end) this.refuseEndInRow(rows, row);
      const size = readPlyScalar(view, at, column.countType, isLittleEndian);
      if (size < 0) this.refuseListSize(size, rows, at, row);
      at += column.countBytes;
      if (at + size * column.typeBytes > end) this.refuseEndInRow(rows, row);
      if (column.slot !== 'corners') {
        at += size * column.typeBytes;
        continue;
      }
      mesh.beginFace(size);
      for (let i = 0; i < size; i++) {
        const vert = readPlyScalar(view, at, column.type, isLittleEndian);
        if (vert < 0 || vert >= this.vertCount) this.refuseIndex(vert, i, at, row);
        mesh.addCorner(vert);
        at += column.typeBytes;
      }
    }
    this.at = at;
  }

  private refuseNotFinite(value: number, axis: string, byte: number, row: number): never {
    throw new MeshError(
      'not-finite',
      `Vertex ${row} has ${value} as its ${axis} (byte ${byte}), which is not a finite number. ` +
        'Export the scan again, or delete that point.',
      { byte, index: row },
    );
  }

  private refuseListSize(size: number, rows: PlyRows, byte: number, row: number): never {
    throw new MeshError(
      'bad-value',
      `A list of ${nameRow(rows, row)} has ${size} items (byte ${byte}). Export the scan again.`,
      { byte, index: row },
    );
  }

  private refuseIndex(vert: number, corner: number, byte: number, row: number): never {
    throw new MeshError(
      'index-out-of-range',
      `Face ${row}, corner ${corner} names vertex ${vert} (byte ${byte}); the file has ${this.vertCount}, ` +
        'numbered from 0. Export the scan again.',
      { byte, index: row },
    );
  }
}
