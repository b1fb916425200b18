import { type CoatTable, TABLE_WIDTH } from '../field/CoatTable.ts';
import type { PartingWall } from '../parting/buildWall.ts';
import type { SurfaceContext } from '../parting/SurfaceContext.ts';
import type { EstimatedTables } from './estimateTables.ts';

const KNOTS = 24;
/** Share of the flange's volume that may be wrong: where it runs into the rubber, over itself, or beside the wall's plane. Own; tried on the fixtures. */
const DOUBT_SHARE = 0.25;
/** Heights at which a ruling is asked whether its foot is still the nearest. */
const STEPS = 8;
/** It is while the distance is at least this share of the height: rulings follow a smoothed normal, so never all of it. */
const STILL_NEAREST = 0.8;
/** A side of a wall's triangle this near to the rulings' length is a ruling, share of it. */
const RULING_SHARE = 1e-6;

/**
 * Volume of the flange within each height over the rubber: the parting wall's area times the thickness, on either side of it.
 *
 * A ruling counts as far as the rubber about its foot stays the nearest: beyond that is another part's flange, or rubber.
 * Each triangle of the wall stands on its foot (two corners on the rubber) or on its head, and widens or narrows evenly.
 * Source: own arithmetic.
 *
 * @param toMm height that the tables reach, no more than the wall's.
 */
export function estimateFlange(
  surface: SurfaceContext,
  { mesh: { positions: p, indices }, left, right, heightMm }: PartingWall,
  regionCount: number,
  thicknessMm: number,
  toMm: number,
): EstimatedTables {
  const knotMm = toMm / (KNOTS - 1);
  const rows = Array.from({ length: regionCount }, () => new Float64Array(TABLE_WIDTH * KNOTS));
  for (let tri = 0; tri < left.length; tri++) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * indices[3 * tri + k]);
    const area = triArea(p, a, b, c);
    const stands = Math.abs(distance(p, b, c) - heightMm) < RULING_SHARE * heightMm;
    const foot = stands ? b : a;
    const mostShare = freeShare(surface, p, foot, c, heightMm);
    for (let k = 1; k < KNOTS; k++) {
      const share = Math.min(mostShare, (k * knotMm) / heightMm);
      const volume = thicknessMm * area * (stands ? share * (2 - share) : share * share);
      for (const region of [left[tri], right[tri]]) {
        const row = rows[region];
        if (row === undefined) continue;
        row[TABLE_WIDTH * k] += volume;
        for (let x = 0; x < 3; x++)
          row[TABLE_WIDTH * k + 1 + x] += (volume * (p[a + x] + p[b + x] + p[c + x])) / 3;
      }
    }
  }
  const tables = rows.map((r): CoatTable => ({ knotMm, knotCount: KNOTS, rows: r }));
  const doubted = rows.map(
    (r): CoatTable => ({
      knotMm,
      knotCount: KNOTS,
      rows: r.map((x, i) => (i % TABLE_WIDTH === 0 ? x * (1 + DOUBT_SHARE) : x)),
    }),
  );
  return { tables, doubted };
}

/** Share of the ruling from `foot` to `head` along which nothing is much nearer than the rubber about its foot. */
function freeShare(
  surface: SurfaceContext,
  p: Float64Array,
  foot: number,
  head: number,
  heightMm: number,
): number {
  for (let step = STEPS; step > 0; step--) {
    const share = step / STEPS;
    const at = [0, 1, 2].map((x) => p[foot + x] + share * (p[head + x] - p[foot + x]));
    const near = surface.closestPoint([at[0], at[1], at[2]]);
    const awayMm = Math.hypot(near.x - at[0], near.y - at[1], near.z - at[2]);
    if (awayMm >= STILL_NEAREST * share * heightMm) return share;
  }
  return 0;
}

function distance(p: Float64Array, a: number, b: number): number {
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
}

function triArea(p: Float64Array, a: number, b: number, c: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}
