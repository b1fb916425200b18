const TOLD = 1;

/**
 * Values of a map by vertex of the drawn surface, n x 3: the value, 1 where it is told, and the value that lines go by. An untold vertex beside told ones
 * takes their mean, so that a band does not race to nought within the last triangle; endless values are held at the limits.
 *
 * @param corners values by corner of the triangles
 * @param indices vertex of the drawn surface by corner
 * @param lines values that lines go by, by corner; null: the map's own
 * Cost: two passes over the corners.
 */
export function mapAttribute(
  corners: Float32Array,
  indices: Uint32Array,
  count: number,
  leastValue: number,
  mostValue: number,
  lines: Float32Array | null = null,
): Float32Array {
  const out = new Float32Array(3 * count);
  const hold = (value: number): number => Math.min(mostValue, Math.max(leastValue, value));
  for (let c = 0; c < corners.length; c++) {
    const value = corners[c];
    if (Number.isNaN(value)) continue;
    const v = 3 * indices[c];
    out[v] = hold(value);
    out[v + 1] = TOLD;
    out[v + 2] = hold(lines === null ? value : lines[c]);
  }
  const sum = new Float32Array(count);
  const lineSum = new Float32Array(count);
  const met = new Uint16Array(count);
  for (let t = 0; t < corners.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const v = indices[t + k];
      if (out[3 * v + 1] === TOLD) continue;
      for (let j = 0; j < 3; j++) {
        const from = indices[t + j];
        if (out[3 * from + 1] !== TOLD) continue;
        sum[v] += out[3 * from];
        lineSum[v] += out[3 * from + 2];
        met[v]++;
      }
    }
  }
  for (let v = 0; v < count; v++) {
    if (met[v] === 0) continue;
    out[3 * v] = sum[v] / met[v];
    out[3 * v + 2] = lineSum[v] / met[v];
  }
  return out;
}
