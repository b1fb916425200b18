import type { TriMesh } from '../mesh/TriMesh.ts';
import type { LineChain } from './chainSegments.ts';
import { layRulings } from './layRulings.ts';
import type { CutSegments } from './types.ts';

/**
 * The parting face as a surface: rulings that stand on the lines along the rubber's normal, as shims do.
 * Its triangles are wound so that their normal points to the right-hand region.
 */
export interface PartingWall {
  readonly mesh: TriMesh;
  /** Per triangle of the wall: the regions to its left and right. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** Length of the rulings, mm. */
  readonly heightMm: number;
}

/** Ends this near to the board, as a share of the wall's height, stand on it. */
const ON_BOARD_SHARE = 1e-3;

/** Largest angle between two rulings of the fan that closes the gap between the last ruling and the board, radians. */
const FAN_STEP_RAD = Math.PI / 12;

/**
 * @param heightMm length of the rulings.
 * @param stepMm rulings no closer than this along a line; lines shorter than a step keep their ends.
 * @param windowMm the normal is averaged along this much of the line to either side: scan noise times the height would
 *   otherwise fray the face.
 */
export function buildWall(
  mesh: TriMesh,
  segments: CutSegments,
  chains: readonly LineChain[],
  standsOnBoard: boolean,
  heightMm: number,
  stepMm: number,
  windowMm: number,
): PartingWall {
  const positions: number[] = [];
  const indices: number[] = [];
  const left: number[] = [];
  const right: number[] = [];
  const addVert = (x: number, y: number, z: number): number => positions.push(x, y, z) / 3 - 1;
  const addTri = (chain: LineChain, a: number, b: number, c: number): void => {
    indices.push(a, b, c);
    left.push(chain.left);
    right.push(chain.right);
  };
  for (const chain of chains) {
    const { feet, normals } = layRulings(mesh, segments, chain, stepMm, windowMm);
    const last = feet.length / 3 - 1;
    let before: [number, number] | undefined;
    for (let p = 0; p <= last; p++) {
      const x = feet[3 * p];
      const y = feet[3 * p + 1];
      const z = feet[3 * p + 2];
      const foot = addVert(x, y, z);
      const top = addVert(
        x + heightMm * normals[3 * p],
        y + heightMm * normals[3 * p + 1],
        z + heightMm * normals[3 * p + 2],
      );
      if (before) {
        addTri(chain, before[0], foot, top);
        addTri(chain, before[0], top, before[1]);
      }
      before = [foot, top];
      const isEnd = !chain.isClosed && (p === 0 || p === last);
      if (standsOnBoard && isEnd && z < ON_BOARD_SHARE * heightMm) {
        addFan(chain, foot, top, p === 0, normals.subarray(3 * p, 3 * p + 3));
      }
    }
  }

  /** From the last ruling down to the board: there the rim itself is the nearest point, so the face goes on flat. */
  function addFan(chain: LineChain, foot: number, top: number, isStart: boolean, n: Float64Array): void {
    const flat = Math.hypot(n[0], n[1]);
    if (n[2] <= 0 || flat === 0) return;
    const tilt = Math.atan2(n[2], flat);
    const steps = Math.ceil(tilt / FAN_STEP_RAD);
    let last = top;
    for (let s = 1; s <= steps; s++) {
      const angle = tilt * (1 - s / steps);
      const across = (heightMm * Math.cos(angle)) / flat;
      const next = addVert(
        positions[3 * foot] + across * n[0],
        positions[3 * foot + 1] + across * n[1],
        positions[3 * foot + 2] + heightMm * Math.sin(angle),
      );
      if (isStart) addTri(chain, foot, last, next);
      else addTri(chain, foot, next, last);
      last = next;
    }
  }

  return {
    mesh: { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) },
    left: Int32Array.from(left),
    right: Int32Array.from(right),
    heightMm,
  };
}
