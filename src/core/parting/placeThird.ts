/** With corner i at 0 and corner j on the x axis: corner k, above the axis, to out[0..1]. `i j k` are offsets into `p`. */
export function placeThird(p: Float64Array, i: number, j: number, k: number, out: Float64Array): void {
  const ax = p[j] - p[i];
  const ay = p[j + 1] - p[i + 1];
  const az = p[j + 2] - p[i + 2];
  const bx = p[k] - p[i];
  const by = p[k + 1] - p[i + 1];
  const bz = p[k + 2] - p[i + 2];
  const len = Math.sqrt(ax * ax + ay * ay + az * az);
  if (len === 0) {
    out[0] = Math.sqrt(bx * bx + by * by + bz * bz);
    out[1] = 0;
    return;
  }
  const cx = ay * bz - az * by;
  const cy = az * bx - ax * bz;
  const cz = ax * by - ay * bx;
  out[0] = (ax * bx + ay * by + az * bz) / len;
  out[1] = Math.sqrt(cx * cx + cy * cy + cz * cz) / len;
}
