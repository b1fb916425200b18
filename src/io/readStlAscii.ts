import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError, type MeshErrorCode } from '../core/errors.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { TextCursor } from './TextCursor.ts';
import { VertIndex } from './VertIndex.ts';

/** Triangles between two looks at the clock; about 2 ms. */
const TRIS_A_RUN = 2048;

/** A facet as programs print it takes about 250 bytes; one stripped of all that can be left out takes 90. */
const TYPICAL_TRI_BYTES = 250;

const VERTS_A_TRI = 0.52;

/** A UTF-8 byte order mark, which some editors put before a text. */
const BYTE_ORDER_MARK = [0xef, 0xbb, 0xbf];

/**
 * Reads an ASCII STL and indexes it while reading: corners whose coordinates are the same double become one vertex.
 *
 * Words in any case, parted by any white space, lines ended by LF, CR LF or CR; any number of solids, which are taken
 * together with a note. Names of solids and normals are passed over. Coordinates keep a double's precision.
 * Throws MeshError: truncated, count-mismatch, bad-value, not-finite, no-faces; and the abort reason at a checkpoint.
 */
export async function readStlAscii(bytes: Uint8Array, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const start = BYTE_ORDER_MARK.every((byte, i) => bytes[i] === byte) ? BYTE_ORDER_MARK.length : 0;
  const reader = new Reader(new TextCursor(bytes, start, 1));
  while (reader.readRun(TRIS_A_RUN)) {
    if (checkpoint.due()) await checkpoint.pause(reader.cursor.byte / bytes.length);
  }
  return reader.finish();
}

class Reader {
  private readonly verts: VertIndex;
  private indices: Uint32Array;
  private triCount = 0;
  private solidCount = 0;
  private isInSolid = false;

  constructor(readonly cursor: TextCursor) {
    const expectedTris = cursor.bytes.length / TYPICAL_TRI_BYTES;
    this.verts = new VertIndex(VERTS_A_TRI * expectedTris);
    this.indices = new Uint32Array(3 * Math.ceil(expectedTris) + 3);
  }

  /** Reads up to `maxTris` facets. False at the end of the file. */
  readRun(maxTris: number): boolean {
    const { cursor } = this;
    const stop = this.triCount + maxTris;
    while (this.triCount < stop) {
      if (!cursor.nextToken()) {
        if (this.isInSolid) this.refuseEnd('"endsolid"');
        return false;
      }
      if (this.isInSolid && cursor.isWord('facet')) {
        this.readFacet();
      } else if (this.isInSolid && cursor.isWord('endsolid')) {
        this.isInSolid = false;
        // The name of the solid, which may be anything, "facet" included.
        cursor.nextLine();
      } else if (!this.isInSolid && cursor.isWord('solid')) {
        this.isInSolid = true;
        this.solidCount++;
        cursor.nextLine();
      } else {
        this.refuse('bad-value', this.isInSolid ? '"facet" or "endsolid"' : '"solid"');
      }
    }
    return true;
  }

  finish(): OpenedMesh {
    const { triCount, solidCount } = this;
    if (triCount === 0) {
      throw new MeshError(
        'no-faces',
        `The STL holds no triangles: it ends at line ${this.cursor.line} without a "facet". Export the scan again, as a mesh.`,
        { line: this.cursor.line },
      );
    }
    const notes: ScanNote[] = [];
    if (solidCount > 1) {
      notes.push({
        code: 'several-solids',
        text: `The file holds ${solidCount} solids; they were taken together.`,
        count: solidCount,
      });
    }
    return {
      mesh: { positions: this.verts.takePositions(), indices: this.indices.slice(0, 3 * triCount) },
      format: 'STL ASCII',
      notes,
    };
  }

  private readFacet(): void {
    const { cursor, triCount } = this;
    this.expectWord('normal');
    // The normal is not used, and some programs write "nan" there for a triangle without area.
    for (let i = 0; i < 3; i++) this.expectToken('the normal');
    this.expectWord('outer');
    this.expectWord('loop');
    if (3 * triCount + 3 > this.indices.length) this.growIndices();
    for (let corner = 0; corner < 3; corner++) {
      this.expectToken('"vertex"');
      if (!cursor.isWord('vertex')) this.refuseCorners(corner);
      this.expectToken('a coordinate');
      const x = cursor.readNumber('triangle', triCount);
      this.expectToken('a coordinate');
      const y = cursor.readNumber('triangle', triCount);
      this.expectToken('a coordinate');
      const z = cursor.readNumber('triangle', triCount);
      this.indices[3 * triCount + corner] = this.verts.findOrAdd(x, y, z);
    }
    this.expectToken('"endloop"');
    if (!cursor.isWord('endloop')) this.refuseCorners(3);
    this.expectWord('endfacet');
    this.triCount++;
  }

  private growIndices(): void {
    const grown = new Uint32Array(3 * Math.ceil(1.5 * (this.indices.length / 3)));
    grown.set(this.indices);
    this.indices = grown;
  }

  private expectToken(wanted: string): void {
    if (!this.cursor.nextToken()) this.refuseEnd(wanted);
  }

  private expectWord(word: string): void {
    this.expectToken(`"${word}"`);
    if (!this.cursor.isWord(word)) this.refuse('bad-value', `"${word}"`);
  }

  private refuseCorners(corner: number): never {
    const { cursor } = this;
    if (corner < 3 && cursor.isWord('endloop')) {
      this.refuse('count-mismatch', `corner ${corner + 1} of 3`);
    }
    if (corner === 3 && cursor.isWord('vertex')) {
      this.refuse('count-mismatch', '"endloop" after three corners');
    }
    this.refuse('bad-value', corner < 3 ? '"vertex"' : '"endloop"');
  }

  private refuse(code: MeshErrorCode, wanted: string): never {
    const { cursor, triCount } = this;
    throw new MeshError(
      code,
      `Line ${cursor.line}: ${wanted} was expected (triangle ${triCount}), ${cursor.quote()} stands there. ` +
        'The file is not a sound ASCII STL; export the scan again.',
      { line: cursor.line, byte: cursor.from, index: triCount },
    );
  }

  private refuseEnd(wanted: string): never {
    const { cursor, triCount } = this;
    throw new MeshError(
      'truncated',
      `The file ends at byte ${cursor.bytes.length} (line ${cursor.line}) where ${wanted} was expected; ` +
        `${triCount} whole triangles are there. It was cut off; copy or export the scan again.`,
      { byte: cursor.bytes.length, line: cursor.line, index: triCount },
    );
  }
}
