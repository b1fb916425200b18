import { MeshError } from '../core/errors.ts';
import { isPlyInteger, PLY_SCALARS, type PlyScalar } from './plyScalar.ts';
import { quoteText } from './quoteText.ts';

export type PlyFormat = 'ascii' | 'binary_little_endian' | 'binary_big_endian';

export interface PlyProperty {
  readonly name: string;
  /** Type of the value, or of each item of a list. */
  readonly type: PlyScalar;
  /** Type of the count that stands before a list's items; undefined: a single value. */
  readonly countType: PlyScalar | undefined;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: readonly PlyProperty[];
  /** One-based line of the header where the element is declared. */
  readonly line: number;
}

export interface PlyHeader {
  readonly format: PlyFormat;
  /** In the order of their data. */
  readonly elements: readonly PlyElement[];
  /** Zero-based byte where the data begins. */
  readonly bodyAt: number;
  /** One-based line where the data of an ASCII file begins. */
  readonly bodyLine: number;
  /** Each line as the format's paper writes it, in ASCII, parted by single spaces and ended by LF: what other readers count right. */
  readonly isPlain: boolean;
}

/** Counts are read into uint32 everywhere; more cannot be indexed. */
const MAX_COUNT = 0xffffffff;

/** No sane header line is longer; what goes on without a line end is not a header. */
const MAX_LINE_BYTES = 65536;

/** Lines of a header: a scan's has about twenty, and a thousand when a program kept its notes there. Own choice. */
const MAX_LINES = 20_000;

/** A line of a plain header, without its end. Other spellings are understood here, but not by every reader. */
const PLAIN_LINE =
  /^(ply|format [a-z_]+ 1\.0|comment( [\x20-\x7e]*)?|element \w+ \d+|property (list \w+ )?\w+ \w+|end_header)$/;

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

const FORMATS: readonly PlyFormat[] = ['ascii', 'binary_little_endian', 'binary_big_endian'];

/** Whether the file begins with the line "ply", by content alone. */
export function isPly(bytes: Uint8Array): boolean {
  return (
    bytes[0] === 0x70 &&
    bytes[1] === 0x6c &&
    bytes[2] === 0x79 &&
    (bytes[3] === LINE_FEED || bytes[3] === CARRIAGE_RETURN || bytes[3] === 0x20 || bytes[3] === 0x09)
  );
}

/**
 * The header of a PLY file, read strictly: every line is understood or refused, and the data's first byte is counted in
 * bytes. Lines end with LF or CR LF, or all of them with CR alone. Comments and obj_info are passed over unread.
 *
 * Throws MeshError: bad-header with line and byte, truncated when the file ends inside the header.
 * Source: G. Turk, "The PLY Polygon File Format" (1994).
 */
export function parsePlyHeader(bytes: Uint8Array): PlyHeader {
  const lines: HeaderLines = new HeaderLines(bytes);
  const first = lines.next();
  if (first !== 'ply') {
    throw new MeshError('bad-header', 'A PLY file begins with a line "ply" (byte 0); this one does not.', {
      byte: 0,
      line: 1,
    });
  }
  let format: PlyFormat | undefined;
  const elements: { name: string; count: number; properties: PlyProperty[]; line: number }[] = [];
  const elementNames = new Set<string>();
  const propertyNames = new Set<string>();
  for (;;) {
    const text = lines.next();
    const words = text.split(/[ \t]+/);
    const keyword = words[0];
    if (keyword === 'end_header') break;
    if (keyword === 'comment' || keyword === 'obj_info' || keyword === '') continue;
    if (keyword === 'format') {
      if (format !== undefined) lines.refuse('a second "format" line', 'keep one');
      format = FORMATS.find((known) => known === words[1]);
      if (format === undefined || words[2] !== '1.0' || words.length !== 3) {
        lines.refuse(
          `the format ${quoteText(words.slice(1).join(' '))} is not known`,
          'export as "ascii 1.0", "binary_little_endian 1.0" or "binary_big_endian 1.0"',
        );
      }
    } else if (keyword === 'element') {
      if (elementNames.has(words[1])) {
        lines.refuse(`a second element ${quoteText(words[1])}`, 'export the scan again');
      }
      elementNames.add(words[1]);
      propertyNames.clear();
      elements.push({ ...parseElement(words, lines), properties: [], line: lines.line });
    } else if (keyword === 'property') {
      const element = elements.at(-1);
      if (element === undefined) lines.refuse('a property before any element', 'export the scan again');
      const property = parseProperty(words, lines);
      if (propertyNames.has(property.name)) {
        lines.refuse(`a second property ${quoteText(property.name)} of one element`, 'export the scan again');
      }
      propertyNames.add(property.name);
      element.properties.push(property);
    } else {
      lines.refuse(`${quoteText(keyword)} is not a word of a PLY header`, 'export the scan again');
    }
  }
  if (format === undefined) lines.refuse('the header ends without a "format" line', 'export the scan again');
  return {
    format,
    elements,
    bodyAt: lines.at,
    bodyLine: lines.line + 1,
    isPlain: lines.isPlain,
  };
}

function parseElement(words: readonly string[], lines: HeaderLines): { name: string; count: number } {
  const [, name, count] = words;
  if (words.length !== 3) lines.refuse('an element needs a name and a count', 'export the scan again');
  if (!/^\d+$/.test(count)) {
    lines.refuse(
      `the count of ${quoteText(name)} is ${quoteText(count)}, not a whole number`,
      'export the scan again',
    );
  }
  if (Number(count) > MAX_COUNT) {
    lines.refuse(
      `the count of ${quoteText(name)} is ${quoteText(count)}, beyond ${MAX_COUNT}`,
      'export the scan again',
    );
  }
  return { name, count: Number(count) };
}

function parseProperty(words: readonly string[], lines: HeaderLines): PlyProperty {
  const isList = words[1] === 'list';
  if (words.length !== (isList ? 5 : 3)) {
    lines.refuse(
      'a property needs a type and a name, a list the types of its count and items before its name',
      'export the scan again',
    );
  }
  const type = PLY_SCALARS.get(words[isList ? 3 : 1]);
  const countType = isList ? PLY_SCALARS.get(words[2]) : undefined;
  if (type === undefined || (isList && countType === undefined)) {
    const unknown = type === undefined ? words[isList ? 3 : 1] : words[2];
    lines.refuse(`${quoteText(unknown)} is not a type of PLY`, 'export the scan again');
  }
  if (countType !== undefined && !isPlyInteger(countType)) {
    lines.refuse(
      `a list counted by ${quoteText(words[2])}, which is not a whole number`,
      'export the scan again',
    );
  }
  return { name: words[words.length - 1], type, countType };
}

/** Hands out the header's lines, trimmed; comments come out as their bare keyword. */
class HeaderLines {
  /** First byte after the present line and its end. */
  at = 0;
  /** One-based. */
  line = 0;
  isPlain = true;
  private lineAt = 0;
  private readonly decoder = new TextDecoder();
  private readonly endsWithReturn: boolean;

  constructor(private readonly bytes: Uint8Array) {
    // A file from before the line feed ends all its lines by CR alone. This is settled on the first line, or a binary
    // body that happens to begin with the byte 10 would be taken for a part of the last line's end.
    const first = bytes.findIndex((byte) => byte === LINE_FEED || byte === CARRIAGE_RETURN);
    this.endsWithReturn = first >= 0 && bytes[first] === CARRIAGE_RETURN && bytes[first + 1] !== LINE_FEED;
    if (this.endsWithReturn) this.isPlain = false;
  }

  next(): string {
    const { bytes } = this;
    const lineEnd = this.endsWithReturn ? CARRIAGE_RETURN : LINE_FEED;
    this.lineAt = this.at;
    this.line++;
    const end = bytes.indexOf(lineEnd, this.lineAt);
    const length = (end < 0 ? bytes.length : end) - this.lineAt;
    if (length > MAX_LINE_BYTES) this.refuse('a line without an end', 'export the scan again');
    if (this.line > MAX_LINES)
      this.refuse(`a header of more than ${MAX_LINES} lines`, 'export the scan again');
    if (end < 0) {
      throw new MeshError(
        'truncated',
        `The file ends at byte ${bytes.length}, inside the PLY header (line ${this.line}): there is no "end_header". ` +
          'Copy or export the scan again.',
        { byte: bytes.length, line: this.line },
      );
    }
    this.at = end + 1;
    const raw = this.decoder.decode(bytes.subarray(this.lineAt, end));
    if (!PLAIN_LINE.test(raw)) this.isPlain = false;
    const text = raw.trim();
    return /^comment(\s|$)/.test(text) ? 'comment' : text;
  }

  refuse(what: string, advice: string): never {
    throw new MeshError(
      'bad-header',
      `PLY header, line ${this.line} (byte ${this.lineAt}): ${what}; ${advice}.`,
      {
        line: this.line,
        byte: this.lineAt,
      },
    );
  }
}
