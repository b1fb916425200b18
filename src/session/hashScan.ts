/** The browser copies what it digests while the page waits: more than this at once would be felt. */
const PIECE_BYTES = 1 << 22;

/**
 * A name for the bytes that equal bytes share, in hexadecimal: their SHA-256 (FIPS 180-4), or of more than 4 MiB that of the
 * digests of their pieces of 4 MiB, one after the other. Where the browser has no digest,
 * as on a page without https, each call gives a name of its own: the bytes are then kept once a plan, not once a content.
 */
export async function hashScan(bytes: ArrayBuffer): Promise<string> {
  const subtle = globalThis.crypto?.subtle as SubtleCrypto | undefined;
  if (!subtle) return newKey();
  const digests: Uint8Array[] = [];
  for (let from = 0; from === 0 || from < bytes.byteLength; from += PIECE_BYTES) {
    const piece = new Uint8Array(bytes, from, Math.min(PIECE_BYTES, bytes.byteLength - from));
    digests.push(new Uint8Array(await subtle.digest('SHA-256', piece)));
  }
  const digest =
    digests.length === 1
      ? digests[0]
      : new Uint8Array(await subtle.digest('SHA-256', await new Blob(digests as BlobPart[]).arrayBuffer()));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A key that nothing else has: 128 random bits. */
export function newKey(): string {
  const bits = globalThis.crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bits, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
