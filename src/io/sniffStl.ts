import { isTextual } from './isTextual.ts';
import { STL_BODY_AT, STL_COUNT_AT, STL_TRI_BYTES } from './stlLayout.ts';

/**
 * Which STL the bytes are, by content alone; undefined: neither.
 *
 * The count decides before the word "solid" does, because many programs begin the free text of a binary file with that
 * word: the file is binary when all triangles that bytes 80..83 promise fit in it. No text can pass for that below
 * 7.5 GB: four printable characters read as a count are at least 0x09090909, 151 million triangles.
 */
export function sniffStl(bytes: Uint8Array): 'binary' | 'ascii' | undefined {
  const promised = promisedStlTris(bytes);
  if (promised !== undefined && promised > 0 && STL_BODY_AT + STL_TRI_BYTES * promised <= bytes.length) {
    return 'binary';
  }
  return isTextual(bytes) && /^\s*solid(\s|$)/i.test(startOfText(bytes)) ? 'ascii' : undefined;
}

/** The count that a binary STL's header gives, or undefined when the file ends before it. */
export function promisedStlTris(bytes: Uint8Array): number | undefined {
  if (bytes.length < STL_BODY_AT) return undefined;
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(STL_COUNT_AT, true);
}

/** Enough for blank lines and a byte order mark before the first word. */
const START_BYTES = 256;

function startOfText(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes.subarray(0, START_BYTES));
}
