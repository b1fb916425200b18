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
    parser.on('opentag', ({ name, attributes }) => listener.opened({ name, attributes, line: parser.line }));
    parser.on('closetag', ({ name }) => listener.closed(name));
    parser.on('error', ({ message }) => {
      throw new MeshError(
        'bad-value',
        `${quoteText(part)} in the archive is no sound XML: ${plain(message)}. The file is damaged; export the scan again.`,
        { line: parser.line },
      );
    });
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
