import { creaseNormals } from '../core/picture/creaseNormals.ts';
import type { ShadedPicture, SurfacePicture } from './protocol.ts';

/** A surface ready for drawing. Cost: that of `creaseNormals`, and one pass for the key. */
export function shadePicture(picture: SurfacePicture): ShadedPicture {
  const { positions, indices } = picture;
  return { ...picture, key: keyOf(picture), shaded: creaseNormals(positions, indices) };
}

/** A copy that can be handed over to the page, where the worker keeps its own. */
export function copyPicture({ key, positions, indices, shaded }: ShadedPicture): ShadedPicture {
  return {
    key,
    positions: positions.slice(),
    indices: indices.slice(),
    shaded: {
      positions: shaded.positions.slice(),
      normals: shaded.normals.slice(),
      indices: shaded.indices.slice(),
    },
  };
}

/** Names a surface by what it is made of, so that the page tells a new one from the old without looking at every number. */
function keyOf({ positions, indices }: SurfacePicture): string {
  const places = hashOf(new Uint32Array(positions.buffer, positions.byteOffset, positions.length));
  return `${positions.length} ${indices.length} ${places} ${hashOf(indices)}`;
}

/** Two running hashes of 32 bits by odd factors (FNV-1a over words, and one with the golden ratio's): enough to tell apart what one page meets. */
function hashOf(words: Uint32Array): string {
  let a = 0x811c9dc5;
  let b = words.length;
  for (let i = 0; i < words.length; i++) {
    a = Math.imul(a ^ words[i], 0x01000193);
    b = Math.imul(b + words[i], 0x9e3779b1) ^ (b >>> 15);
  }
  return `${(a >>> 0).toString(36)}${(b >>> 0).toString(36)}`;
}
