import { facingUp } from './findBoard.ts';
import { triArea } from './measure.ts';
import type { OpenLoop } from './measureLoop.ts';
import type { TriMesh } from './TriMesh.ts';

/** Ground faces up to within acos(0.7) = 46 degrees: a rough table's small faces lean. Own choice. */
const FACING_UP = 0.7;
/** Ground lies no higher above the edge of the scan than this share of the height. Own choice. */
const UNEVEN_SHARE = 0.04;
/** A plinth has some level top too; a table takes at least this share of the footprint. Own choice. */
const LEAST_COVER = 0.3;
/** Share of the ground's area that lies below the table's top; the rest are bumps, or the body's own foot. Own choice. */
const BELOW_TOP = 0.995;

/** A body cut through its foot has some level faces at its edge; a table has nothing but its ground there. Own choice. */
const LEAST_EDGE = 0.8;

export interface FoundTable {
  /** Height below which nearly all of it lies, mm. */
  readonly topMm: number;
  /** Its faces: how many, and their numbers. */
  readonly faces: number;
  readonly tris: readonly number[];
  /** Its share of the footprint. */
  readonly cover: number;
}

/**
 * The table that was scanned with what stands on it: ground that spreads level from the open edge of the scan inward, or
 * null where the body rises from that edge. Heights along z; `size`: the scan's height and footprint. O(n).
 */
export function findTable(
  mesh: TriMesh,
  twins: Int32Array,
  edge: OpenLoop,
  size: { readonly scanHeightMm: number; readonly footprintMm2: number },
): FoundTable | null {
  const { positions: p, indices } = mesh;
  const capMm = edge.max[2] + UNEVEN_SHARE * size.scanHeightMm;
  const scratch = new Float64Array(3);
  const topOf = (t: number): number =>
    Math.max(p[3 * indices[3 * t] + 2], p[3 * indices[3 * t + 1] + 2], p[3 * indices[3 * t + 2] + 2]);
  const isGround = (t: number): boolean => topOf(t) <= capMm && facingUp(mesh, t, scratch) >= FACING_UP;
  const isSeen = new Uint8Array(indices.length / 3);
  const stack: number[] = [];
  const reach = (t: number): void => {
    if (isSeen[t] !== 0) return;
    isSeen[t] = 1;
    if (isGround(t)) stack.push(t);
  };
  const onGround = edge.halfEdges.filter((e) => isGround((e / 3) | 0));
  if (onGround.length < LEAST_EDGE * edge.halfEdges.length) return null;
  for (const e of onGround) reach((e / 3) | 0);
  const ground: { top: number; area: number; t: number }[] = [];
  let area = 0;
  for (let t = stack.pop(); t !== undefined; t = stack.pop()) {
    const own = triArea(mesh, t, scratch) * facingUp(mesh, t, scratch);
    area += own;
    ground.push({ top: topOf(t), area: own, t });
    for (let e = 3 * t; e < 3 * t + 3; e++) if (twins[e] >= 0) reach((twins[e] / 3) | 0);
  }
  const cover = area / size.footprintMm2;
  if (!(cover >= LEAST_COVER)) return null;
  ground.sort((a, b) => a.top - b.top);
  const tris = ground.map(({ t }) => t);
  let below = 0;
  for (const { top, area: own } of ground) {
    below += own;
    if (below >= BELOW_TOP * area) return { topMm: top, faces: ground.length, tris, cover };
  }
  return { topMm: ground[ground.length - 1].top, faces: ground.length, tris, cover };
}
