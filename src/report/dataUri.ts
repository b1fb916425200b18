/** Characters that one call of `fromCharCode` is given: far below what an engine takes as arguments. */
const CHUNK = 0x2000;

/** Bytes as a `data:` address, so that a page holds its pictures and fonts itself and asks for nothing outside. */
export function dataUri(bytes: Uint8Array, type: string): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += CHUNK) text += String.fromCharCode(...bytes.subarray(i, i + CHUNK));
  return `data:${type};base64,${btoa(text)}`;
}
