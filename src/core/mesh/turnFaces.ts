/** Turns over the marked triangles in place by swapping their last two corners, and renumbers their half-edges in `partners`. */
export function turnFaces(indices: Uint32Array, partners: Int32Array, isTurned: Uint8Array): void {
  for (let t = 0; t < isTurned.length; t++) {
    if (isTurned[t] === 0) continue;
    const i = 3 * t;
    const kept = indices[i + 1];
    indices[i + 1] = indices[i + 2];
    indices[i + 2] = kept;
    // a b c becomes a c b: the edge a b is now the third, c a the first, b c stays the second.
    const first = partners[i];
    partners[i] = partners[i + 2];
    partners[i + 2] = first;
  }
  for (let e = 0; e < partners.length; e++) {
    const o = partners[e];
    if (o < 0) continue;
    const s = (o / 3) | 0;
    if (isTurned[s] !== 0) partners[e] = 3 * s + 2 - (o - 3 * s);
  }
}
