/** The numbers of the triangles whose `isKept` is 0. */
export function droppedTris(isKept: Uint8Array): number[] {
  const out: number[] = [];
  for (let t = 0; t < isKept.length; t++) if (isKept[t] === 0) out.push(t);
  return out;
}

/** The triangles whose `isKept` is not 0, in their order. The list itself when all are kept. */
export function keepTris(indices: Uint32Array, isKept: Uint8Array): Uint32Array {
  let kept = 0;
  for (let t = 0; t < isKept.length; t++) if (isKept[t] !== 0) kept++;
  if (kept === isKept.length) return indices;
  const out = new Uint32Array(3 * kept);
  let at = 0;
  for (let t = 0; t < isKept.length; t++) {
    if (isKept[t] === 0) continue;
    out[at++] = indices[3 * t];
    out[at++] = indices[3 * t + 1];
    out[at++] = indices[3 * t + 2];
  }
  return out;
}
