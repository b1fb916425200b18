import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';

export const BALL_RADIUS_MM = 40;
/** How far below its equator the ball is covered, radians. */
export const BALL_BELOW_RAD = Math.PI / 6;

const RING_COUNT = 30;
const SIDE_COUNT = 60;

/** An STL of a ball that stands on the board as far below its equator as said, open underneath. */
export function ballScan(): Uint8Array {
  return writeStl(cutBall(), 'ball');
}

function cutBall(): TriMesh {
  const positions = new Float64Array(3 * (1 + RING_COUNT * SIDE_COUNT));
  const footMm = BALL_RADIUS_MM * Math.sin(BALL_BELOW_RAD);
  positions[2] = BALL_RADIUS_MM + footMm;
  for (let ring = 0; ring < RING_COUNT; ring++) {
    const latitude = Math.PI / 2 - ((Math.PI / 2 + BALL_BELOW_RAD) * (ring + 1)) / RING_COUNT;
    for (let side = 0; side < SIDE_COUNT; side++) {
      const at = 3 * (1 + ring * SIDE_COUNT + side);
      const turn = (2 * Math.PI * side) / SIDE_COUNT;
      positions[at] = BALL_RADIUS_MM * Math.cos(latitude) * Math.cos(turn);
      positions[at + 1] = BALL_RADIUS_MM * Math.cos(latitude) * Math.sin(turn);
      positions[at + 2] = BALL_RADIUS_MM * Math.sin(latitude) + footMm;
    }
  }
  const indices: number[] = [];
  const vert = (ring: number, side: number) => 1 + ring * SIDE_COUNT + (side % SIDE_COUNT);
  for (let side = 0; side < SIDE_COUNT; side++) {
    indices.push(0, vert(0, side), vert(0, side + 1));
    for (let ring = 0; ring + 1 < RING_COUNT; ring++) {
      const [a, b] = [vert(ring, side), vert(ring, side + 1)];
      const [c, d] = [vert(ring + 1, side), vert(ring + 1, side + 1)];
      indices.push(a, c, d, a, d, b);
    }
  }
  return { positions, indices: Uint32Array.from(indices) };
}
