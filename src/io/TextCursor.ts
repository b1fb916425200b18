import { MeshError } from '../core/errors.ts';
import { parseDecimal } from './parseDecimal.ts';
import { quoteBytes } from './quoteText.ts';

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;
const SPACE = 0x20;

/** Words that programs print for numbers that are none, so that the message can say "not finite" and not "not a number". */
const NOT_FINITE_WORD = /^[+-]?(nan|inf|1\.#)/i;

/**
 * Walks the tokens of a text file held as bytes, and knows the line it is on. Lines end with LF, CR LF or CR; any other
 * byte up to the space parts tokens. No strings are made, except for messages.
 */
export class TextCursor {
  /** First byte of the present token. */
  from = 0;
  /** One past its last byte. */
  to = 0;
  /** One-based line of the present token. */
  line: number;
  private at: number;

  constructor(
    readonly bytes: Uint8Array,
    at: number,
    line: number,
  ) {
    this.at = at;
    this.line = line;
  }

  /** Where reading goes on; for progress. */
  get byte(): number {
    return this.at;
  }

  /** Moves to the next token, over line ends. False at the end of the file. */
  nextToken(): boolean {
    while (!this.nextTokenOnLine()) {
      if (!this.nextLine()) return false;
    }
    return true;
  }

  /** Moves to the next token of the present line. False when the line has no more. */
  nextTokenOnLine(): boolean {
    const { bytes } = this;
    const end = bytes.length;
    let at = this.at;
    while (at < end && bytes[at] <= SPACE && bytes[at] !== LINE_FEED && bytes[at] !== CARRIAGE_RETURN) at++;
    this.from = at;
    while (at < end && bytes[at] > SPACE) at++;
    this.to = at;
    this.at = at;
    return at > this.from;
  }

  /** Passes over the rest of the present line and its end. False when the file ends first. */
  nextLine(): boolean {
    const { bytes } = this;
    const end = bytes.length;
    let at = this.at;
    while (at < end && bytes[at] !== LINE_FEED && bytes[at] !== CARRIAGE_RETURN) at++;
    if (at === end) {
      this.at = at;
      return false;
    }
    at += bytes[at] === CARRIAGE_RETURN && at + 1 < end && bytes[at + 1] === LINE_FEED ? 2 : 1;
    this.at = at;
    this.line++;
    return true;
  }

  /** Whether the present token is the word, given in lower case, whatever the case in the file. */
  isWord(word: string): boolean {
    const { bytes, from } = this;
    if (this.to - from !== word.length) return false;
    for (let i = 0; i < word.length; i++) {
      const byte = bytes[from + i];
      const lower = byte >= 0x41 && byte <= 0x5a ? byte + 32 : byte;
      if (lower !== word.charCodeAt(i)) return false;
    }
    return true;
  }

  /** The present token for a message. */
  quote(): string {
    return quoteBytes(this.bytes, this.from, this.to);
  }

  /**
   * The present token as a finite number; `owner` and `index` say whose it is ("triangle", 12).
   * Throws MeshError: not-finite, bad-value.
   */
  readNumber(owner: string, index: number): number {
    const value = parseDecimal(this.bytes, this.from, this.to);
    // One comparison sorts out NaN and both infinities.
    if (value - value === 0) return value;
    const place = { byte: this.from, line: this.line, index };
    const isNumber = !Number.isNaN(value);
    const text = new TextDecoder().decode(this.bytes.subarray(this.from, this.to));
    if (isNumber || NOT_FINITE_WORD.test(text)) {
      throw new MeshError(
        'not-finite',
        `Line ${this.line}: ${owner} ${index} has the number ${this.quote()}, which is not a finite number. ` +
          'Export the scan again, or delete that part of it.',
        place,
      );
    }
    throw new MeshError(
      'bad-value',
      `Line ${this.line}: a number of ${owner} ${index} was expected, ${this.quote()} stands there. ` +
        'Export the scan again; numbers need a decimal point, not a comma.',
      place,
    );
  }
}
