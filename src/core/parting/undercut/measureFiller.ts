import type { Checkpoint } from '../../checkpoint.ts';
import type { PieceCells } from './PieceCells.ts';
import { newColumnHit, type PullColumns } from './PullColumns.ts';
import type { PullFrame } from './PullFrame.ts';
import type { UndercutBody } from './UndercutBody.ts';

/** Faces wider than one column in this many, of the region's own or of the others', are asked in parts. */
const LEAST_COLUMNS = 3000;

/** A face is parted along its edges at most so many times. */
const MOST_PARTS = 48;

/** Columns whose crossing into the next piece is worked out; of more, evenly chosen ones stand for all. */
const MOST_COLUMNS = 5000;

/** Columns start this share of the body's size below the face, so that the face itself is not met. */
const START_SHARE = 1e-7;

/** The error is put at this many times the spread that neighbouring columns show. */
const SPREADS = 2;

/** Filler of one region. */
export interface ShadowFiller {
  readonly fillerMm3: number;
  readonly fillerErrorMm3: number;
  /** By spot, and at the end what belongs to none. */
  readonly bySpotMm3: Float64Array;
}

/** Columns that stand under the rubber, as flat lists: where each begins, its share of the plan, its length. */
interface Columns {
  readonly x: number[];
  readonly y: number[];
  readonly z: number[];
  readonly lateralMm2: number[];
  readonly lengthMm: number[];
  readonly top: number[];
  readonly bottom: number[];
}

/**
 * Volume between the rubber and the smallest body over it that the piece clears: all places that are the region's (their
 * nearest rubber is) and have rubber above them along the pull, above the board and no lower than the rubber's lowest point.
 *
 * Each such place has one face above it that faces away; so the volume is the sum over those faces, whichever piece they belong to, of
 * their extent square to the pull times the part of the way down, to the next rubber, that is the region's. The way
 * down is an exact ray; where it passes from piece to piece is found on it.
 *
 * @param spotOfCutTri by triangle of the cut surface: the spot of this region that it belongs to, or -1.
 * @param cutTriOf by triangle of the solid: a triangle of the cut surface in it, of this region where there is one, or -1.
 * Cost: a microsecond a face, and 50 microseconds for each of at most 5000 columns that pass from piece to piece.
 */
export async function measureFiller(
  body: UndercutBody,
  region: number,
  frame: PullFrame,
  columns: PullColumns,
  cells: PieceCells,
  spotOfCutTri: Int32Array,
  spotCount: number,
  cutTriOf: Int32Array,
  cp: Checkpoint,
): Promise<ShadowFiller> {
  const found = await findColumns(
    body,
    region,
    frame,
    columns,
    cells,
    cp.within(0, 0.3, 'measuring the filler'),
  );
  const bySpotMm3 = new Float64Array(spotCount + 1);
  const all = found.x.length;
  let totalMm2 = 0;
  for (const area of found.lateralMm2) totalMm2 += area;
  const [dx, dy, dz] = frame.d;
  // Every column, or one of each stretch of their summed extent, sorted by spot and by how far they begin from the border between the
  // pieces: those that follow each other then have about the same length. Which one of a stretch is left to a fixed row of
  // scattered numbers: even spacing would keep step with the rings of a regular mesh.
  const isSampled = all > MOST_COLUMNS && !cells.isOnePiece;
  const sorted = await sortColumns(
    body,
    region,
    cells,
    found,
    isSampled ? spotOfCutTri : null,
    cp.within(0.3, 0.5, 'measuring the filler'),
  );
  const strideMm2 = totalMm2 / MOST_COLUMNS;
  let passedMm2 = 0;
  let stretch = 0;
  let nextMm2 = strideMm2 * scattered(0);
  let fillerMm3 = 0;
  let spread = 0;
  let before = Number.NaN;
  for (let k = 0; k < all; k++) {
    if (cp.due()) await cp.pause(0.5 + (0.5 * k) / all);
    const n = sorted[k];
    let area = found.lateralMm2[n];
    if (isSampled) {
      passedMm2 += area;
      if (passedMm2 < nextMm2) continue;
      let taken = 0;
      for (; passedMm2 >= nextMm2 && stretch < MOST_COLUMNS; taken++) {
        stretch++;
        nextMm2 = strideMm2 * (stretch + scattered(stretch));
      }
      if (taken === 0) continue;
      area = taken * strideMm2;
    }
    const length = cells.lengthIn(
      region,
      found.x[n],
      found.y[n],
      found.z[n],
      -dx,
      -dy,
      -dz,
      found.lengthMm[n],
    );
    const volume = area * length;
    fillerMm3 += volume;
    if (Number.isNaN(before)) before = volume;
    else {
      spread += (volume - before) ** 2;
      before = Number.NaN;
    }
    if (volume === 0) continue;
    let spot = spotOfCutTri[found.top[n]];
    if (spot < 0 && found.bottom[n] >= 0 && cutTriOf[found.bottom[n]] >= 0) {
      spot = spotOfCutTri[cutTriOf[found.bottom[n]]];
    }
    if (spot < 0 && cells.nearTri >= 0) spot = spotOfCutTri[cells.nearTri];
    bySpotMm3[spot < 0 ? spotCount : spot] += volume;
  }
  return { fillerMm3, fillerErrorMm3: SPREADS * Math.sqrt(spread), bySpotMm3 };
}

/** Numbers of the columns: as they are, or by spot and, within one, by how far they begin inside the region (outside: below 0). */
async function sortColumns(
  { cut }: UndercutBody,
  region: number,
  cells: PieceCells,
  { x, y, z, top }: Columns,
  spotOfCutTri: Int32Array | null,
  cp: Checkpoint,
): Promise<Uint32Array> {
  const sorted = Uint32Array.from(x, (_, n) => n);
  if (spotOfCutTri === null) return sorted;
  const depth = new Float64Array(x.length);
  for (let n = 0; n < x.length; n++) {
    if (cp.due()) await cp.pause(n / x.length);
    const isOwn = cut.cutTriRegion[top[n]] === region;
    depth[n] = isOwn
      ? cells.distanceToOthers(region, x[n], y[n], z[n])
      : -cells.distanceTo(region, x[n], y[n], z[n]);
  }
  return sorted.sort((a, b) => spotOfCutTri[top[a]] - spotOfCutTri[top[b]] || depth[a] - depth[b]);
}

/** The n-th of a row of numbers in [0, 1) without pattern: a mixing of the bits of n (finaliser of MurmurHash3, A. Appleby, public domain). */
function scattered(n: number): number {
  let bits = Math.imul(n + 1, 0x9e3779b9);
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return ((bits ^ (bits >>> 16)) >>> 0) / 2 ** 32;
}

/** The columns under the faces that face away which may hold a place of the region's. */
async function findColumns(
  body: UndercutBody,
  region: number,
  frame: PullFrame,
  columns: PullColumns,
  cells: PieceCells,
  cp: Checkpoint,
): Promise<Columns> {
  const { cut, normals, areasMm2 } = body;
  const { u, v, d } = frame;
  const [dx, dy, dz] = d;
  const p = cut.positions;
  const count = cut.cutTriRegion.length;
  let ownMm2 = 0;
  let othersMm2 = 0;
  for (let t = 0; t < count; t++) {
    const sine = normals[3 * t] * dx + normals[3 * t + 1] * dy + normals[3 * t + 2] * dz;
    if (sine >= 0) continue;
    if (cut.cutTriRegion[t] === region) ownMm2 -= sine * areasMm2[t];
    else othersMm2 -= sine * areasMm2[t];
  }
  const startMm = START_SHARE * body.diagonalMm;
  const hit = newColumnHit();
  const out: Columns = { x: [], y: [], z: [], lateralMm2: [], lengthMm: [], top: [], bottom: [] };
  for (let t = 0; t < count; t++) {
    if ((t & 255) === 0 && cp.due()) await cp.pause(t / count);
    const sine = normals[3 * t] * dx + normals[3 * t + 1] * dy + normals[3 * t + 2] * dz;
    if (sine >= 0 || areasMm2[t] === 0) continue;
    const lateralMm2 = -sine * areasMm2[t];
    const largestMm2 = (cut.cutTriRegion[t] === region ? ownMm2 : othersMm2) / LEAST_COLUMNS;
    const parts = Math.min(MOST_PARTS, Math.max(1, Math.ceil(Math.sqrt(lateralMm2 / largestMm2))));
    const a = 3 * cut.indices[3 * t];
    const b = 3 * cut.indices[3 * t + 1];
    const c = 3 * cut.indices[3 * t + 2];
    const share = lateralMm2 / (parts * parts);
    // The face in parts x parts like triangles: upright ones at (i, j), and turned ones between them.
    for (let i = 0; i < parts; i++) {
      for (let j = 0; j < parts - i; j++) {
        for (let turned = 0; turned < (i + j < parts - 1 ? 2 : 1); turned++) {
          const wb = (i + (1 + turned) / 3) / parts;
          const wc = (j + (1 + turned) / 3) / parts;
          const wa = 1 - wb - wc;
          const x = wa * p[a] + wb * p[b] + wc * p[c];
          const y = wa * p[a + 1] + wb * p[b + 1] + wc * p[c + 1];
          const z = wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2];
          const h = x * dx + y * dy + z * dz;
          columns.nextBelow(x * u[0] + y * u[1] + z * u[2], x * v[0] + y * v[1] + z * v[2], h - startMm, hit);
          let length = h - Math.max(hit.heightMm, columns.lowestMm);
          let bottom = hit.tri;
          if (body.standsOnBoard && dz > 0 && z < length * dz) {
            length = z / dz;
            bottom = -1;
          }
          if (length <= startMm) continue;
          if (cut.cutTriRegion[t] !== region && !cells.mayHold(region, x, y, z, -dx, -dy, -dz, length))
            continue;
          out.x.push(x);
          out.y.push(y);
          out.z.push(z);
          out.lateralMm2.push(share);
          out.lengthMm.push(length);
          out.top.push(t);
          out.bottom.push(bottom);
        }
      }
    }
  }
  return out;
}
