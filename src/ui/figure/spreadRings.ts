interface Xy {
  readonly x: number;
  readonly y: number;
}

/** Middle to middle of two rings that just do not touch, CSS pixels. */
const APART_PX = 24;
/** Enough for a dozen in a heap; more would only tidy what nobody sees. */
const ROUNDS = 40;
/** How much of its way a ring goes back toward its point in each round: alone, it stands on it. */
const BACK_SHARE = 0.08;

/** Where numbered rings stand so that they do not cover one another, near the points that they belong to, in the same order. Own method: pairs push each other apart. */
export function spreadRings(points: readonly Xy[]): Xy[] {
  const rings = points.map(({ x, y }) => ({ x, y }));
  for (let round = 0; round < ROUNDS; round++) {
    let isCrowded = false;
    for (let i = 0; i < rings.length; i++) {
      for (let j = i + 1; j < rings.length; j++) {
        const a = rings[i];
        const b = rings[j];
        const apart = Math.hypot(b.x - a.x, b.y - a.y);
        if (apart >= APART_PX) continue;
        isCrowded = true;
        // On one another they part sidewise.
        const ux = apart > 1e-6 ? (b.x - a.x) / apart : 1;
        const uy = apart > 1e-6 ? (b.y - a.y) / apart : 0;
        const push = (APART_PX - apart) / 2;
        a.x -= ux * push;
        a.y -= uy * push;
        b.x += ux * push;
        b.y += uy * push;
      }
    }
    if (!isCrowded) break;
    if (round > ROUNDS / 2) continue;
    for (const [i, ring] of rings.entries()) {
      ring.x += BACK_SHARE * (points[i].x - ring.x);
      ring.y += BACK_SHARE * (points[i].y - ring.y);
    }
  }
  return rings;
}
