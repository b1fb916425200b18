/** A key that nothing else has: 128 random bits, in hexadecimal. */
export function newKey(): string {
  const bits = globalThis.crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bits, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
