import { Inflate } from 'fflate';
import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import { crc32 } from './crc32.ts';
import { quoteText } from './quoteText.ts';

/** Signatures and sizes of a zip's records (PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16). */
const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const LOCAL_BYTES = 30;
const CENTRAL_BYTES = 46;
const END_BYTES = 22;
/** A comment after the end record is at most so long. */
const MAX_COMMENT = 65535;

const STORED = 0;
const DEFLATED = 8;
const ENCRYPTED = 1;
/** Stands where a number is in a zip64 record instead. */
const IN_ZIP64 = 0xffffffff;

/** Packed bytes inflated between two looks at the clock: at most a thousand times as many come out, as a rule five. */
const CHUNK_BYTES = 16384;

interface Entry {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly checkSum: number;
  readonly packedBytes: number;
  readonly size: number;
  readonly localAt: number;
}

/**
 * A zip archive in memory: its list of contents (the central directory), and each file in it, inflated piece by piece by
 * fflate so that neither the whole text nor more than the allowed number of bytes ever exists. Each file's size and check
 * sum must come out as the list says. Not read: zip64, encryption, methods other than stored and deflated.
 */
export class ZipArchive {
  private readonly entries = new Map<string, Entry>();
  private inflatedBytes = 0;

  /**
   * `maxInflatedBytes` bounds all that is ever taken out of the archive. Throws MeshError: truncated (no list of contents:
   * it is at the end), bad-header, unknown-format (zip64).
   */
  constructor(
    private readonly bytes: Uint8Array,
    private readonly maxInflatedBytes: number,
  ) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const endAt = findEnd(view);
    const count = view.getUint16(endAt + 10, true);
    let at = view.getUint32(endAt + 16, true);
    if (at === IN_ZIP64) refuseLarge();
    for (let i = 0; i < count; i++) {
      if (at + CENTRAL_BYTES > endAt || view.getUint32(at, true) !== CENTRAL) {
        throw new MeshError(
          'bad-header',
          `The list of contents of the zip archive is damaged at byte ${at} (entry ${i} of ${count}). Copy or export the scan again.`,
          { byte: Math.min(at, bytes.length), index: i },
        );
      }
      const nameBytes = view.getUint16(at + 28, true);
      const name = new TextDecoder().decode(
        bytes.subarray(at + CENTRAL_BYTES, at + CENTRAL_BYTES + nameBytes),
      );
      this.entries.set(keyOf(name), {
        name,
        flags: view.getUint16(at + 8, true),
        method: view.getUint16(at + 10, true),
        checkSum: view.getUint32(at + 16, true),
        packedBytes: view.getUint32(at + 20, true),
        size: view.getUint32(at + 24, true),
        localAt: view.getUint32(at + 42, true),
      });
      at += CENTRAL_BYTES + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    }
  }

  get names(): string[] {
    return Array.from(this.entries.values(), ({ name }) => name);
  }

  has(name: string): boolean {
    return this.entries.has(keyOf(name));
  }

  /**
   * Hands the file's bytes to `take`, in pieces that are only good until it returns. Names are the same in any case and with
   * or without a slash in front, as in the package conventions.
   * Throws MeshError: truncated (not there, or damaged), unknown-format (encrypted, odd method), too-large; the abort reason.
   */
  async read(name: string, take: (piece: Uint8Array) => void, checkpoint: Checkpoint): Promise<void> {
    const entry = this.entries.get(keyOf(name));
    if (entry === undefined) {
      throw new MeshError(
        'truncated',
        `The archive speaks of ${quoteText(name)}, which is not in it. Copy or export the scan again.`,
      );
    }
    const packed = this.packedBytes(entry);
    let size = 0;
    let checkSum = 0;
    const pass = (piece: Uint8Array): void => {
      size += piece.length;
      this.inflatedBytes += piece.length;
      if (this.inflatedBytes > this.maxInflatedBytes) this.refuseBomb(entry);
      if (size > entry.size) refuseDamaged(entry);
      checkSum = crc32(piece, checkSum);
      take(piece);
    };
    if (entry.method === STORED) {
      for (let at = 0; at < packed.length; at += CHUNK_BYTES) {
        pass(packed.subarray(at, at + CHUNK_BYTES));
        if (checkpoint.due()) await checkpoint.pause(at / packed.length);
      }
    } else {
      const inflate = new Inflate(pass);
      for (let at = 0; at < packed.length; at += CHUNK_BYTES) {
        const isLast = at + CHUNK_BYTES >= packed.length;
        push(inflate, packed.subarray(at, at + CHUNK_BYTES), isLast, entry);
        if (checkpoint.due()) await checkpoint.pause(at / packed.length);
      }
    }
    if (size !== entry.size || checkSum !== entry.checkSum) refuseDamaged(entry);
  }

  /** The file as one text, for the small ones. */
  async readText(name: string, checkpoint: Checkpoint): Promise<string> {
    const decoder = new TextDecoder();
    let text = '';
    await this.read(
      name,
      (piece) => {
        text += decoder.decode(piece, { stream: true });
      },
      checkpoint,
    );
    return text + decoder.decode();
  }

  private packedBytes(entry: Entry): Uint8Array {
    const { bytes } = this;
    const { localAt, packedBytes } = entry;
    if ((entry.flags & ENCRYPTED) !== 0 || (entry.method !== STORED && entry.method !== DEFLATED)) {
      throw new MeshError(
        'unknown-format',
        `${quoteText(entry.name)} in the archive is ${(entry.flags & ENCRYPTED) !== 0 ? 'encrypted' : `packed by method ${entry.method}`}, which is not read here. Export the scan again.`,
        { byte: Math.min(localAt, bytes.length) },
      );
    }
    if (localAt === IN_ZIP64 || packedBytes === IN_ZIP64 || entry.size === IN_ZIP64) refuseLarge();
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    if (localAt + LOCAL_BYTES > bytes.length || view.getUint32(localAt, true) !== LOCAL) refuseDamaged(entry);
    const from =
      localAt + LOCAL_BYTES + view.getUint16(localAt + 26, true) + view.getUint16(localAt + 28, true);
    if (from + packedBytes > bytes.length) refuseDamaged(entry);
    return bytes.subarray(from, from + packedBytes);
  }

  private refuseBomb(entry: Entry): never {
    throw new MeshError(
      'too-large',
      `${quoteText(entry.name)} in the archive unpacks to more than ${this.maxInflatedBytes} bytes from ${this.bytes.length}, which is no sane ` +
        'scan, or too large a one. Export it with fewer triangles.',
    );
  }
}

/** MeshErrors thrown while pieces are taken pass; what the inflater itself throws means damaged bytes. */
function push(inflate: Inflate, chunk: Uint8Array, isLast: boolean, entry: Entry): void {
  try {
    inflate.push(chunk, isLast);
  } catch (error) {
    if (error instanceof MeshError || error instanceof RangeError) throw error;
    if (error instanceof Error && 'code' in error && typeof error.code === 'number') refuseDamaged(entry);
    throw error;
  }
}

function findEnd(view: DataView): number {
  const lowest = Math.max(0, view.byteLength - END_BYTES - MAX_COMMENT);
  for (let at = view.byteLength - END_BYTES; at >= lowest; at--) {
    if (view.getUint32(at, true) === END) return at;
  }
  throw new MeshError(
    'truncated',
    `The file ends at byte ${view.byteLength} without the list of contents that ends a zip archive. It was cut off; copy or export the scan again.`,
    { byte: view.byteLength },
  );
}

function keyOf(name: string): string {
  return name.replace(/^\//, '').toLowerCase();
}

function refuseDamaged({ name, localAt }: Entry): never {
  throw new MeshError(
    'truncated',
    `${quoteText(name)} in the archive (its entry is at byte ${localAt}) does not unpack to what the archive's list promises: the file is damaged. ` +
      'Copy or export the scan again.',
  );
}

function refuseLarge(): never {
  throw new MeshError(
    'unknown-format',
    'The archive is written for parts of 4 GB and more (zip64), or is damaged; such archives are not read here. Export the scan again, with fewer triangles if it is as large as that.',
  );
}
