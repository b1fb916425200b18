import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { PlanResult } from '../core/PlanResult.ts';
import type { PiecePlan } from '../core/plan/PlanDocument.ts';
import type { PiecePicture } from '../jobs/protocol.ts';

/** Spots tried for a note on a piece: enough that one is in sight from nearly anywhere, few enough to test each frame. */
const SPOT_COUNT = 24;

const known = new WeakMap<PiecePicture, readonly Vec3[]>();

/**
 * Points on a piece's rubber, mm: middles of triangles taken at even steps of area, so that they lie spread over the
 * piece and surely inside it. Empty for a piece without triangles. Kept as long as the picture lives.
 */
export function pieceSpots(piece: PiecePicture): readonly Vec3[] {
  const kept = known.get(piece);
  if (kept) return kept;
  const { positions, indices } = piece.rubber;
  const triCount = indices.length / 3;
  const cumulated = new Float64Array(triCount);
  let area = 0;
  for (let t = 0; t < triCount; t++) {
    area += triangleArea(positions, indices, t);
    cumulated[t] = area;
  }
  const spots: Vec3[] = [];
  let t = 0;
  for (let k = 0; k < SPOT_COUNT && area > 0; k++) {
    const target = ((k + 0.5) / SPOT_COUNT) * area;
    while (cumulated[t] < target && t < triCount - 1) t++;
    spots.push(triangleMiddle(positions, indices, t));
  }
  known.set(piece, spots);
  return spots;
}

/** Every piece as it is now, with a point that lies inside it: what the plan needs to keep a name or a pull. */
export function describePieces(result: PlanResult, pieces: readonly PiecePicture[]): readonly PiecePlan[] {
  return result.pieces.map((piece, i) => ({
    anchorMm: pieceSpots(pieces[i])[SPOT_COUNT / 2] ?? piece.centreOfMassMm,
    name: piece.name,
    pull: piece.pull,
  }));
}

function triangleArea(p: Float32Array, indices: Uint32Array, t: number): number {
  const a = 3 * indices[3 * t];
  const b = 3 * indices[3 * t + 1];
  const c = 3 * indices[3 * t + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

function triangleMiddle(p: Float32Array, indices: Uint32Array, t: number): Vec3 {
  const a = 3 * indices[3 * t];
  const b = 3 * indices[3 * t + 1];
  const c = 3 * indices[3 * t + 2];
  return [
    (p[a] + p[b] + p[c]) / 3,
    (p[a + 1] + p[b + 1] + p[c + 1]) / 3,
    (p[a + 2] + p[b + 2] + p[c + 2]) / 3,
  ];
}
