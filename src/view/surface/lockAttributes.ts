import type { UndercutPicture } from '../../jobs/protocol.ts';

/** How many kinds of undercut there are beside 'free': see UndercutPicture.kind. */
export const LOCK_KINDS = 4;
const FULL = 255;

export interface LockAttributes {
  /** n x 4: how much of the triangles round the vertex locks in each way, 0..255 for none to all. The rest is free. */
  readonly shares: Uint8Array;
  /** n: how deep, mm. */
  readonly depthMm: Float32Array;
}

/**
 * What locks, by vertex of the drawn surface, so that the graphics card can draw borders between the kinds as smooth lines
 * instead of along the triangles' sides: where two shares are equal. Off by less than one triangle.
 *
 * @param corners vertex of the drawn surface by corner of the triangles
 * @param sources vertex of the picture by corner of the triangles
 * @param count vertices of the drawn surface
 * Cost: one pass over the corners.
 */
export function lockAttributes(
  { kind, depthMm }: UndercutPicture,
  corners: Uint32Array,
  sources: Uint32Array,
  count: number,
): LockAttributes {
  const met = new Uint16Array(count);
  const locked = new Uint16Array(LOCK_KINDS * count);
  const depths = new Float32Array(count);
  for (let c = 0; c < corners.length; c++) {
    const v = corners[c];
    met[v]++;
    depths[v] = depthMm[sources[c]];
    const is = kind[(c / 3) | 0];
    if (is > 0) locked[LOCK_KINDS * v + is - 1]++;
  }
  const shares = new Uint8Array(LOCK_KINDS * count);
  for (let i = 0; i < shares.length; i++) {
    // Rounded down, so that the shares of a vertex never sum to more than all.
    if (locked[i] > 0) shares[i] = Math.floor((FULL * locked[i]) / met[(i / LOCK_KINDS) | 0]);
  }
  return { shares, depthMm: depths };
}
