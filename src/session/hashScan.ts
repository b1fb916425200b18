/**
 * A name for the bytes that equal bytes share: their SHA-256 (FIPS 180-4), in hexadecimal. Where the browser has no digest,
 * as on a page without https, each call gives a name of its own: the bytes are then kept once a plan, not once a content.
 */
export async function hashScan(bytes: ArrayBuffer): Promise<string> {
  const subtle = globalThis.crypto?.subtle as SubtleCrypto | undefined;
  if (!subtle) return newKey();
  const digest = new Uint8Array(await subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A key that nothing else has: 128 random bits. */
export function newKey(): string {
  const bits = globalThis.crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bits, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
