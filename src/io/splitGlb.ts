import { MeshError } from '../core/errors.ts';
import { quoteText } from './quoteText.ts';

const HEADER_BYTES = 12;
const CHUNK_HEADER_BYTES = 8;
/** "JSON" and "BIN\0" as little-endian numbers. */
const JSON_CHUNK = 0x4e4f534a;
const BINARY_CHUNK = 0x004e4942;
const WANTED_VERSION = 2;

/** The two parts of a GLB. */
export interface GlbParts {
  readonly json: Uint8Array;
  /** Where the JSON begins in the file. */
  readonly jsonAt: number;
  /** The binary buffer; undefined: the file has none. */
  readonly binary: Uint8Array | undefined;
}

/**
 * Takes a GLB apart (glTF 2.0 specification, section 4.4 "Binary glTF Layout"): header, JSON chunk, binary chunk; chunks of
 * other kinds are passed over. Views on the file's bytes, nothing is copied.
 * Throws MeshError: truncated, bad-header, unknown-format (another version).
 */
export function splitGlb(bytes: Uint8Array): GlbParts {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < HEADER_BYTES)
    refuseEnd(bytes.length, `inside the ${HEADER_BYTES} bytes that begin a GLB`);
  const version = view.getUint32(4, true);
  if (version !== WANTED_VERSION) {
    throw new MeshError(
      'unknown-format',
      `The file is a GLB of version ${version} (byte 4); version ${WANTED_VERSION} is read here. Export it anew.`,
      { byte: 4 },
    );
  }
  const length = view.getUint32(8, true);
  if (length > bytes.length) {
    refuseEnd(bytes.length, `though its header (byte 8) promises ${length} bytes`);
  }
  let json: { readonly at: number; readonly size: number } | undefined;
  let binary: Uint8Array | undefined;
  let at = HEADER_BYTES;
  // A few stray bytes at the end, too few for a chunk, are no matter.
  for (let chunk = 0; at + CHUNK_HEADER_BYTES <= length; chunk++) {
    const size = view.getUint32(at, true);
    const kind = view.getUint32(at + 4, true);
    const from = at + CHUNK_HEADER_BYTES;
    if (size > length - from) {
      throw new MeshError(
        'truncated',
        `Part ${chunk} of the GLB (byte ${at}) promises ${size} bytes and ${length - from} are left. Copy or export the scan again.`,
        { byte: at, index: chunk },
      );
    }
    if (chunk === 0 && kind !== JSON_CHUNK) {
      throw new MeshError(
        'bad-header',
        `The first part of the GLB (byte ${at}) must be its JSON and is ${quoteText(kindName(kind))}. Export the scan again.`,
        { byte: at + 4 },
      );
    }
    if (chunk === 0) json = { at: from, size };
    else if (kind === BINARY_CHUNK && binary === undefined) binary = bytes.subarray(from, from + size);
    at = from + size;
  }
  if (json === undefined) refuseEnd(bytes.length, 'before its JSON');
  return { json: bytes.subarray(json.at, json.at + json.size), jsonAt: json.at, binary };
}

function kindName(kind: number): string {
  return String.fromCharCode(kind & 255, (kind >> 8) & 255, (kind >> 16) & 255, (kind >> 24) & 255);
}

function refuseEnd(length: number, what: string): never {
  throw new MeshError(
    'truncated',
    `The file ends at byte ${length}, ${what}. It was cut off; copy or export the scan again.`,
    { byte: length },
  );
}
