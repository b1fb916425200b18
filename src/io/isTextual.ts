/** How much is looked at: past the 84 bytes of a binary STL header and its first triangles, whose floats hold zero bytes. */
const LOOKED_AT = 1024;

/** Whether the file begins as text does: no control characters but tab, line feed, vertical tab, form feed, carriage return. */
export function isTextual(bytes: Uint8Array): boolean {
  const end = Math.min(bytes.length, LOOKED_AT);
  for (let i = 0; i < end; i++) {
    const byte = bytes[i];
    if (byte < 0x09 || (byte > 0x0d && byte < 0x20) || byte === 0x7f) return false;
  }
  return true;
}
