import { SaxesParser } from 'saxes';
import { MeshError } from '../core/errors.ts';
import { quoteText } from './quoteText.ts';

/** An element's beginning, for whoever listens. */
export interface XmlTag {
  /** As written, with its prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** One-based line of the document. */
  readonly line: number;
}

export interface XmlListener {
  opened(tag: XmlTag): void;
  closed(name: string): void;
}

/**
 * Elements within elements, and attributes of one: a model has six and about twenty. Each takes memory until it is closed, so
 * that a small archive of nothing but beginnings would fill it. Own choice.
 */
const MOST_DEPTH = 256;
const MOST_ATTRIBUTES = 1024;

/**
 * Reads an XML document that comes in pieces of bytes, UTF-8 or (with its byte order mark) UTF-16. Texts, comments and what
 * stands in a document type are passed over; nothing is fetched or expanded.
 */
export class XmlReader {
  private readonly parser = new SaxesParser();
  private decoder: TextDecoder | undefined;

  /** `part` is the document's name, for messages. */
  constructor(
    private readonly part: string,
    listener: XmlListener,
  ) {
    const { parser } = this;
    let depth = 0;
    let attributeCount = 0;
    parser.on('attribute', () => {
      if (++attributeCount > MOST_ATTRIBUTES)
        this.refuse(`an element has more than ${MOST_ATTRIBUTES} attributes`);
    });
    parser.on('opentag', ({ name, attributes }) => {
      attributeCount = 0;
      if (++depth > MOST_DEPTH) this.refuse(`its elements lie more than ${MOST_DEPTH} deep in each other`);
      listener.opened({ name, attributes, line: parser.line });
    });
    parser.on('closetag', ({ name }) => {
      depth--;
      listener.closed(name);
    });
    parser.on('error', ({ message }) => this.refuse(plain(message)));
  }

  /** Throws MeshError bad-value on what is no sound XML, and whatever the listener throws. */
  take(piece: Uint8Array): void {
    this.decoder ??= new TextDecoder(encodingOf(piece));
    this.parser.write(this.decoder.decode(piece, { stream: true }));
  }

  finish(): void {
    if (this.decoder === undefined) {
      throw new MeshError(
        'truncated',
        `${quoteText(this.part)} in the archive is empty. Copy or export the scan again.`,
      );
    }
    this.parser.write(this.decoder.decode());
    this.parser.close();
  }

  private refuse(what: string): never {
    const { line } = this.parser;
    throw new MeshError(
      'bad-value',
      `${quoteText(this.part)} in the archive is no sound XML: ${what} (line ${line}). The file is damaged; export the scan again.`,
      { line },
    );
  }
}

/** By byte order mark; a piece is never cut inside it, as the first one is longer. */
function encodingOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  return bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : 'utf-8';
}

/** The parser's message begins with line and column, and may repeat letters of the file. */
function plain(message: string): string {
  return quoteText(message.slice(0, 80)).slice(1, -1).replace(/"$/, '').replace(/\.+$/, '');
}
