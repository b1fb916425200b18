import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { FaceList } from './FaceList.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { OBJ_CURVE_WORDS, OBJ_LOOK_WORDS } from './objWords.ts';
import { SPLITTING_FROM } from './PlyMesh.ts';
import { TextCursor } from './TextCursor.ts';

/** Lines between two looks at the clock; about 2 ms. */
const LINES_A_RUN = 8192;

/** A vertex and its share of two faces take about so many bytes a line; it only sizes the first tables. */
const TYPICAL_LINE_BYTES = 30;

const BYTE_ORDER_MARK = [0xef, 0xbb, 0xbf];
const BACKSLASH = 0x5c;
const SLASH = 0x2f;
const MINUS = 0x2d;
const PLUS = 0x2b;
const HASH = 0x23;

/**
 * Reads a Wavefront OBJ: vertices and faces of any number of corners, all objects and groups together. Coordinates keep a
 * double's precision; nothing is welded.
 *
 * Numbers of vertices count from 1, or backwards from the latest when negative; a face may name vertices that come later.
 * What follows the third number of a vertex (a weight, a colour) has no say. Lines, points, surfaces made of curves and
 * lines of unknown words are passed over with a note; so are materials, texture places and normals.
 * Throws MeshError: count-mismatch, truncated, bad-value, not-finite, index-out-of-range, no-vertices, no-faces, too-large;
 * and the abort reason at a checkpoint.
 */
export async function readObj(bytes: Uint8Array, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const start = BYTE_ORDER_MARK.every((byte, i) => bytes[i] === byte) ? BYTE_ORDER_MARK.length : 0;
  const reader = new Reader(new TextCursor(bytes, start, 1));
  const reading = checkpoint.within(0, SPLITTING_FROM, 'reading the file');
  while (reader.readRun(LINES_A_RUN)) {
    if (reading.due()) await reading.pause(reader.cursor.byte / bytes.length);
  }
  return reader.finish(checkpoint.within(SPLITTING_FROM, 1, 'splitting polygons'));
}

/** Where a face names a vertex that did not stand before it. */
interface Forward {
  readonly vert: number;
  readonly face: number;
  readonly line: number;
  readonly byte: number;
}

class Reader {
  private positions: Float64Array;
  private vertCount = 0;
  private readonly faces: FaceList;
  private faceCount = 0;
  private farthest: Forward | undefined;
  private readonly counts = { lines: 0, points: 0, curves: 0, unknown: 0, objects: 0 };
  private readonly looks = new Set<string>();
  private firstUnknown: { readonly line: number; readonly quoted: string } | undefined;
  /** The corners of the face at hand. */
  private readonly corners: number[] = [];
  /** The present token ends with the mark that joins the next line to this. */
  private isContinued = false;

  constructor(readonly cursor: TextCursor) {
    const expectedLines = Math.ceil(cursor.bytes.length / TYPICAL_LINE_BYTES);
    this.positions = new Float64Array(3 * Math.ceil(expectedLines / 3) + 3);
    this.faces = new FaceList(Math.ceil((2 * expectedLines) / 3));
  }

  /** Reads up to `maxLines` statements. False at the end of the file. */
  readRun(maxLines: number): boolean {
    for (let n = 0; n < maxLines; n++) {
      if (!this.cursor.nextToken()) return false;
      this.readLine();
    }
    return true;
  }

  async finish(checkpoint: Checkpoint): Promise<OpenedMesh> {
    const { farthest, vertCount } = this;
    if (farthest !== undefined && farthest.vert >= vertCount) {
      throw new MeshError(
        'index-out-of-range',
        `Line ${farthest.line}: face ${farthest.face} names vertex ${farthest.vert + 1}; the file has ${vertCount}, numbered ` +
          'from 1. It may have been cut off; copy or export the scan again.',
        { line: farthest.line, byte: farthest.byte, index: farthest.face },
      );
    }
    if (vertCount === 0) {
      throw new MeshError(
        'no-vertices',
        `The OBJ holds no vertices: it ends at line ${this.cursor.line} without a line that begins with "v". Export the scan again.`,
        { line: this.cursor.line },
      );
    }
    const positions = this.positions.slice(0, 3 * vertCount);
    const indices = await this.faces.split(positions, checkpoint);
    if (indices.length === 0) this.refuseNoFaces();
    return { mesh: { positions, indices }, format: 'OBJ', notes: [...this.faces.notes(), ...this.notes()] };
  }

  private readLine(): void {
    const { cursor, counts } = this;
    if (cursor.bytes[cursor.from] === HASH) {
      cursor.nextLine();
      return;
    }
    if (cursor.isWord('v')) this.readVertex();
    else if (cursor.isWord('f') || cursor.isWord('fo')) this.readFace();
    else if (cursor.isWord('vn')) this.looks.add('normals');
    else if (cursor.isWord('vt')) this.looks.add('texture places');
    else if (cursor.isWord('l')) counts.lines++;
    else if (cursor.isWord('p')) counts.points++;
    else if (cursor.isWord('o')) counts.objects++;
    else if (!cursor.isWord('g') && !cursor.isWord('s')) this.notePassedOver();
    this.passOver();
  }

  private notePassedOver(): void {
    const { cursor, counts } = this;
    const word = new TextDecoder().decode(cursor.bytes.subarray(cursor.from, cursor.to));
    if (OBJ_LOOK_WORDS.has(word)) this.looks.add('materials');
    else if (OBJ_CURVE_WORDS.has(word)) counts.curves++;
    else {
      counts.unknown++;
      this.firstUnknown ??= { line: cursor.line, quoted: cursor.quote() };
    }
  }

  /** To the end of the statement, over lines that are joined to it. */
  private passOver(): void {
    while (this.nextArgument()) {
      // Nothing is wanted of it.
    }
    this.cursor.nextLine();
  }

  private readVertex(): void {
    const { cursor, vertCount } = this;
    if (3 * vertCount + 3 > this.positions.length) this.growPositions();
    const { line } = cursor;
    for (let axis = 0; axis < 3; axis++) {
      if (!this.nextArgument())
        this.refuseShort(line, `vertex ${vertCount} has ${axis} of its 3 numbers`, vertCount);
      // Adding 0 turns -0 into 0.
      this.positions[3 * vertCount + axis] = cursor.readNumber('vertex', vertCount) + 0;
    }
    this.vertCount++;
  }

  private readFace(): void {
    const { corners, faces } = this;
    corners.length = 0;
    while (this.nextArgument()) corners.push(this.readCorner());
    faces.beginFace(corners.length);
    for (const vert of corners) faces.addCorner(vert);
    this.faceCount++;
  }

  /** The vertex number of "12", "12/3", "12//4", "12/3/4" or the same with negative numbers; zero-based. */
  private readCorner(): number {
    const { cursor, vertCount, faceCount } = this;
    const { bytes, from, to } = cursor;
    let at = from;
    const isBackward = bytes[at] === MINUS;
    if (isBackward || bytes[at] === PLUS) at++;
    const digitsFrom = at;
    let written = 0;
    for (; at < to && bytes[at] >= 0x30 && bytes[at] <= 0x39; at++) {
      if (written < 1e12) written = 10 * written + (bytes[at] - 0x30);
    }
    if (at === digitsFrom || (at < to && bytes[at] !== SLASH)) {
      throw new MeshError(
        'bad-value',
        `Line ${cursor.line}: the number of a vertex was expected in face ${faceCount}, ${cursor.quote()} stands there. ` +
          'Export the scan again.',
        { line: cursor.line, byte: from, index: faceCount },
      );
    }
    const vert = isBackward ? vertCount - written : written - 1;
    if (vert < 0 || written === 0) {
      throw new MeshError(
        'index-out-of-range',
        `Line ${cursor.line}: face ${faceCount} names vertex ${cursor.quote()}; ${vertCount} stand before it, numbered from 1 ` +
          'or backwards from -1. Export the scan again.',
        { line: cursor.line, byte: from, index: faceCount },
      );
    }
    if (vert >= vertCount && vert > (this.farthest?.vert ?? -1)) {
      this.farthest = { vert, face: faceCount, line: cursor.line, byte: from };
    }
    // Out of an index's range: refused at the end, when it is known how many vertices there are.
    return Math.min(vert, 0xffffffff);
  }

  /** Moves to the next value of the statement, over line ends that a backslash joins. False when it has no more. */
  private nextArgument(): boolean {
    const { cursor } = this;
    for (;;) {
      if (this.isContinued) {
        this.isContinued = false;
        if (!cursor.nextLine()) return false;
      }
      if (!cursor.nextTokenOnLine()) return false;
      // A comment ends the statement; the rest of its line is passed over with it.
      if (cursor.bytes[cursor.from] === HASH) return false;
      if (cursor.bytes[cursor.to - 1] === BACKSLASH && this.isLastOnLine()) {
        cursor.to--;
        this.isContinued = true;
        if (cursor.to === cursor.from) continue;
      }
      return true;
    }
  }

  private isLastOnLine(): boolean {
    const { bytes, byte } = this.cursor;
    for (let at = byte; at < bytes.length; at++) {
      if (bytes[at] === 0x0a || bytes[at] === 0x0d) return true;
      if (bytes[at] > 0x20) return false;
    }
    return true;
  }

  private growPositions(): void {
    const grown = new Float64Array(3 * Math.ceil(1.5 * (this.positions.length / 3)));
    grown.set(this.positions);
    this.positions = grown;
  }

  private notes(): ScanNote[] {
    const { counts, looks, firstUnknown } = this;
    const notes: ScanNote[] = [];
    const tell = (code: string, count: number, text: string): void => {
      if (count > 0) notes.push({ code, text, count });
    };
    if (counts.objects > 1) {
      tell(
        'several-solids',
        counts.objects,
        `The file holds ${counts.objects} objects; they were taken together.`,
      );
    }
    tell('lines-dropped', counts.lines, `${counts.lines} lines without faces were passed over.`);
    tell('points-dropped', counts.points, `${counts.points} loose points were passed over.`);
    tell(
      'curves-dropped',
      counts.curves,
      `${counts.curves} lines of the file describe curved surfaces, which are not read; if parts of the scan are missing, export it as a mesh.`,
    );
    if (firstUnknown !== undefined) {
      tell(
        'unknown-lines',
        counts.unknown,
        `${counts.unknown} lines begin with words that the format does not have and were passed over, the first ${firstUnknown.quoted} in line ${firstUnknown.line}.`,
      );
    }
    if (looks.size > 0) {
      const said = ['materials', 'texture places', 'normals'].filter((look) => looks.has(look));
      notes.push({ code: 'looks-passed-over', text: sayLooks(said) });
    }
    return notes;
  }

  private refuseShort(line: number, what: string, index: number): never {
    const { cursor } = this;
    const isAtEnd = cursor.byte >= cursor.bytes.length;
    throw new MeshError(
      isAtEnd ? 'truncated' : 'count-mismatch',
      isAtEnd
        ? `The file ends at byte ${cursor.bytes.length} (line ${line}), where ${what}. It was cut off; copy or export the scan again.`
        : `Line ${line}: ${what}. Export the scan again.`,
      { line, byte: Math.min(cursor.from, cursor.bytes.length), index },
    );
  }

  private refuseNoFaces(): never {
    const { shortFaceCount } = this.faces;
    const { curves } = this.counts;
    throw new MeshError(
      'no-faces',
      shortFaceCount > 0
        ? `All ${shortFaceCount} faces of the file have fewer than three corners: there is no surface. Export the scan again, as a mesh.`
        : curves > 0
          ? `The file holds curved surfaces (${curves} lines of them) and no faces. Export it as a mesh.`
          : `The file holds ${this.vertCount} points and no faces: it is a point cloud, not a surface. ` +
            'Make a mesh of it in the scanning program and export that.',
      { line: this.cursor.line },
    );
  }
}

/** "Materials, texture places and normals were passed over: the shape alone counts." */
export function sayLooks(said: readonly string[]): string {
  const list = said.length === 1 ? said[0] : `${said.slice(0, -1).join(', ')} and ${said[said.length - 1]}`;
  return `${list[0].toUpperCase()}${list.slice(1)} were passed over: the shape alone counts.`;
}
