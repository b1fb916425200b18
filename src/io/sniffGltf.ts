import { isTextual } from './isTextual.ts';

/** Whether the bytes are glTF by content: binary ("glTF" first), or a JSON text that has an "asset", as every glTF must. */
export function sniffGltf(bytes: Uint8Array): 'binary' | 'text' | undefined {
  if (bytes.length >= 4 && bytes[0] === 0x67 && bytes[1] === 0x6c && bytes[2] === 0x54 && bytes[3] === 0x46) {
    return 'binary';
  }
  if (!isTextual(bytes)) return undefined;
  const start = bytes.findIndex((byte) => byte > 0x20);
  return start >= 0 && bytes[start] === 0x7b && holdsAsset(bytes) ? 'text' : undefined;
}

const ASSET = [...'"asset"'].map((letter) => letter.charCodeAt(0));

function holdsAsset(bytes: Uint8Array): boolean {
  for (let at = bytes.indexOf(ASSET[0]); at >= 0; at = bytes.indexOf(ASSET[0], at + 1)) {
    if (ASSET.every((byte, i) => bytes[at + i] === byte)) return true;
  }
  return false;
}
