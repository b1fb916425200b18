/** Rectangle on the board, mm. */
export interface BoardRectangle {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Parts higher than this share of the mould's height throw hardly any shade on the board. */
const FADE_SHARE = 0.1;
/** Passes of a box blur; three come near to a bell curve. */
const BLUR_PASSES = 3;
/** Half width of the blur, share of the picture's side. */
const BLUR_SHARE = 0.022;
/** Points marked between two looks at the clock: about 1 ms. */
const STEP_POINTS = 20_000;

/**
 * The soft shade that the mould throws on its board: how dark each cell is, 0..255, the more the nearer something
 * hangs above it. Rows from minY up, cells from minX, `size` x `size`.
 * Cost: one pass over vertices and facets; some 10 ms for 100 000 triangles, with a pause each millisecond.
 */
export function* computeBoardShadow(
  positions: Float32Array,
  indices: Uint32Array,
  rectangle: BoardRectangle,
  size: number,
): Generator<void, Uint8Array<ArrayBuffer>> {
  const { minX, minY, maxX, maxY } = rectangle;
  const scaleX = size / (maxX - minX);
  const scaleY = size / (maxY - minY);
  const lowest = new Float32Array(size * size).fill(Infinity);
  let top = 0;
  let sinceStep = 0;
  const mark = (x: number, y: number, z: number): void => {
    sinceStep++;
    const u = Math.floor((x - minX) * scaleX);
    const v = Math.floor((y - minY) * scaleY);
    if (u < 0 || v < 0 || u >= size || v >= size) return;
    const cell = v * size + u;
    if (z < lowest[cell]) lowest[cell] = z;
  };
  for (let i = 0; i < positions.length; i += 3) {
    if (positions[i + 2] > top) top = positions[i + 2];
    mark(positions[i], positions[i + 1], positions[i + 2]);
    if (sinceStep >= STEP_POINTS) {
      sinceStep = 0;
      yield;
    }
  }
  // Facets larger than a cell are filled by points spread evenly over them.
  for (let t = 0; t < indices.length; t += 3) {
    // A facet too small to be filled costs as much as a point.
    sinceStep++;
    if (sinceStep >= STEP_POINTS) {
      sinceStep = 0;
      yield;
    }
    const a = 3 * indices[t];
    const b = 3 * indices[t + 1];
    const c = 3 * indices[t + 2];
    const span = Math.max(
      Math.abs(positions[b] - positions[a]) * scaleX,
      Math.abs(positions[c] - positions[a]) * scaleX,
      Math.abs(positions[b + 1] - positions[a + 1]) * scaleY,
      Math.abs(positions[c + 1] - positions[a + 1]) * scaleY,
    );
    if (span < 1) continue;
    // Two points a cell along each side, so that none between them is missed.
    const steps = Math.min(2 * size, Math.ceil(2 * span));
    for (let i = 0; i <= steps; i++) {
      for (let j = 0; j <= steps - i; j++) {
        const s = i / steps;
        const r = j / steps;
        const q = 1 - s - r;
        mark(
          q * positions[a] + s * positions[b] + r * positions[c],
          q * positions[a + 1] + s * positions[b + 1] + r * positions[c + 1],
          q * positions[a + 2] + s * positions[b + 2] + r * positions[c + 2],
        );
      }
    }
  }
  let shade = new Float32Array(size * size);
  const fadeMm = Math.max(1e-6, top * FADE_SHARE);
  for (let i = 0; i < shade.length; i++) {
    if (lowest[i] < Infinity) shade[i] = Math.exp(-Math.max(0, lowest[i]) / fadeMm);
  }
  const half = Math.max(1, Math.round(size * BLUR_SHARE));
  for (let pass = 0; pass < BLUR_PASSES; pass++) {
    shade = blurRows(shade, size, half, 1, size);
    shade = blurRows(shade, size, half, size, 1);
    yield;
  }
  return Uint8Array.from(shade, (value) => Math.round(255 * Math.min(1, value)));
}

/** Running mean over 2 half + 1 cells along one direction; cells outside count as light. */
function blurRows(
  from: Float32Array,
  size: number,
  half: number,
  step: number,
  stride: number,
): Float32Array<ArrayBuffer> {
  const out = new Float32Array(from.length);
  for (let row = 0; row < size; row++) {
    const base = row * stride;
    let sum = 0;
    for (let i = 0; i < half; i++) sum += from[base + i * step];
    for (let i = 0; i < size; i++) {
      if (i + half < size) sum += from[base + (i + half) * step];
      if (i - half - 1 >= 0) sum -= from[base + (i - half - 1) * step];
      out[base + i * step] = Math.max(0, sum) / (2 * half + 1);
    }
  }
  return out;
}
