import type { Checkpoint } from '../../checkpoint.ts';
import { PlanError } from '../../errors.ts';
import type { CutSurface } from '../types.ts';
import { BRICK, FILLER, FillerGrid, OPEN, OTHER, RUBBER } from './FillerGrid.ts';
import type { FillerRule } from './FillerRule.ts';

/** More bricks than this (10 million cells) are a mistake of scale, or filler without end. */
const MOST_BRICKS = 20_000;

/** Filler farther from the rubber than this share of the surface's diagonal has no end. A choice: no spot is so deep. */
const END_SHARE = 0.5;

/** Hidden faces are sampled this closely for bricks to start from, in cells: at least two samples a brick. */
const SEED_CELLS = BRICK / 2;

/** Shifts the grid off any symmetry of the scan, in cells, so that no ray runs exactly along an edge or a face. */
const SHIFT: readonly [number, number, number] = [0.137, 0.271, 0.419];

/**
 * The cells of a piece's filler, flooded from the given triangles of the cut surface: each brick that filler reaches, whole.
 *
 * A block of cells that no surface passes is decided at once: distances change no faster than the way between two points,
 * so that one measurement at its middle bounds them all, and along the pull nothing changes inside it.
 *
 * @throws PlanError 'bad-pull' -> the filler has no end, named `pieceName`; 'too-fine' -> more than MOST_BRICKS bricks.
 * Cost: about 0.3 ms a brick in open space, 5 ms where the rubber passes through all of it.
 */
export async function growFiller(
  rule: FillerRule,
  cut: CutSurface,
  fromTris: readonly number[],
  cellMm: number,
  diagonalMm: number,
  pieceName: string,
  cp: Checkpoint,
): Promise<FillerGrid> {
  const grid = new FillerGrid(rule.frame, cellMm, [SHIFT[0] * cellMm, SHIFT[1] * cellMm, SHIFT[2] * cellMm]);
  const box = boxOf(cut, fromTris, grid, (END_SHARE * diagonalMm) / cellMm);
  const queue: number[] = [];
  const ask = (i: number, j: number, k: number): void => {
    const brick = grid.addBrick(i, j, k);
    if (brick < 0) return;
    const c = grid.corners;
    if (grid.brickCount > MOST_BRICKS) {
      throw new PlanError(
        'too-fine',
        `The filler of piece ${pieceName} needs more than ${MOST_BRICKS * BRICK ** 3} cells of ${cellMm} mm. Choose a coarser resolution, or fill spot by spot.`,
        'parting.blockOut',
      );
    }
    for (let axis = 0; axis < 3; axis++) {
      const at = c[3 * brick + axis];
      if (at + BRICK < box[axis] || at > box[3 + axis]) {
        throw new PlanError(
          'bad-pull',
          `The filler under piece ${pieceName} has no end: rubber stands in the way of its pull wherever one looks behind it. Choose another pull or another parting line, or do not fill there.`,
          'parting.blockOut',
        );
      }
    }
    queue.push(brick);
  };
  seedBricks(cut, fromTris, grid, ask);
  let done = 0;
  let fraction = 0;
  const filler = new BlockFiller(grid, rule);
  while (queue.length > 0) {
    if (cp.due()) {
      // The queue may grow faster than it is worked off; what was said once stands.
      fraction = Math.max(fraction, done / (done + queue.length));
      await cp.pause(fraction);
    }
    const brick = queue.pop() as number;
    done++;
    const [i, j, k] = grid.corners.slice(3 * brick, 3 * brick + 3);
    filler.fill(i, j, k, BRICK);
    askNeighbours(grid, brick, ask);
  }
  return grid;
}

/** Asks for the bricks across those faces of a brick that filler touches. */
function askNeighbours(
  grid: FillerGrid,
  brick: number,
  ask: (i: number, j: number, k: number) => void,
): void {
  const [i0, j0, k0] = grid.corners.slice(3 * brick, 3 * brick + 3);
  const base = grid.cellAt(i0, j0, k0);
  const stride = [1, BRICK, BRICK * BRICK];
  const touches = (axis: number, at: number): boolean => {
    const a = stride[(axis + 1) % 3];
    const b = stride[(axis + 2) % 3];
    for (let m = 0; m < BRICK; m++) {
      for (let n = 0; n < BRICK; n++) {
        if (grid.state[base + at * stride[axis] + m * a + n * b] === FILLER) return true;
      }
    }
    return false;
  };
  for (let axis = 0; axis < 3; axis++) {
    const step = [0, 0, 0];
    step[axis] = BRICK;
    if (touches(axis, 0)) ask(i0 - step[0], j0 - step[1], k0 - step[2]);
    if (touches(axis, BRICK - 1)) ask(i0 + step[0], j0 + step[1], k0 + step[2]);
  }
}

/** Asks for the bricks that the triangles pass through. */
function seedBricks(
  cut: CutSurface,
  tris: readonly number[],
  grid: FillerGrid,
  ask: (i: number, j: number, k: number) => void,
): void {
  const { positions: p, indices } = cut;
  for (const t of tris) {
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const longest = Math.max(
      Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]),
      Math.hypot(p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]),
    );
    const steps = Math.ceil(longest / (SEED_CELLS * grid.cellMm));
    for (let m = 0; m <= steps; m++) {
      for (let n = 0; m + n <= steps; n++) {
        const s = m / steps;
        const r = n / steps;
        const q = 1 - s - r;
        const x = q * p[a] + s * p[b] + r * p[c];
        const y = q * p[a + 1] + s * p[b + 1] + r * p[c + 1];
        const z = q * p[a + 2] + s * p[b + 2] + r * p[c + 2];
        ask(grid.nearest(0, x, y, z), grid.nearest(1, x, y, z), grid.nearest(2, x, y, z));
      }
    }
  }
}

/** Least and most i j k of S, widened by `marginCells`. */
function boxOf(
  cut: CutSurface,
  tris: readonly number[],
  grid: FillerGrid,
  marginCells: number,
): readonly number[] {
  const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  const { positions: p, indices } = cut;
  const add = (v: number): void => {
    for (let axis = 0; axis < 3; axis++) {
      const at = grid.nearest(axis as 0 | 1 | 2, p[3 * v], p[3 * v + 1], p[3 * v + 2]);
      box[axis] = Math.min(box[axis], at);
      box[3 + axis] = Math.max(box[3 + axis], at);
    }
  };
  for (const t of tris) for (let n = 0; n < 3; n++) add(indices[3 * t + n]);
  return box.map((at, n) => (n < 3 ? at - marginCells : at + marginCells));
}

/** Fills blocks of cells with their states, by eighths where one measurement does not decide them all. */
class BlockFiller {
  private readonly point = new Float64Array(3);

  constructor(
    private readonly grid: FillerGrid,
    private readonly rule: FillerRule,
  ) {}

  /** The cells i .. i + size - 1 and so on. `size` is a power of 2. */
  fill(i: number, j: number, k: number, size: number, isOwnKnown = false): void {
    const { grid, rule, point } = this;
    if (size === 1) {
      grid.pointAt(i, j, k, point);
      const cell = grid.cellAt(i, j, k);
      grid.state[cell] = rule.stateAt(point[0], point[1], point[2], isOwnKnown);
      grid.tri[cell] = rule.ownTri;
      return;
    }
    const middle = (size - 1) / 2;
    grid.pointAt(i + middle, j + middle, k + middle, point);
    const [x, y, z] = point;
    const radiusMm = Math.sqrt(3) * middle * grid.cellMm;
    if (rule.isAboveBoard(z - radiusMm)) {
      rule.measure(x, y, z);
      const { ownMm, otherMm } = rule;
      if (Math.min(ownMm, otherMm) > radiusMm && this.fillWhole(i, j, k, size, radiusMm, ownMm, otherMm))
        return;
    }
    const half = size / 2;
    for (let n = 0; n < 8; n++) {
      this.fill(i + (n & 1) * half, j + ((n >> 1) & 1) * half, k + (n >> 2) * half, half);
    }
  }

  /** A block that no surface passes; false when its cells may differ in a way that has to be asked one by one. */
  private fillWhole(
    i: number,
    j: number,
    k: number,
    size: number,
    radiusMm: number,
    ownMm: number,
    otherMm: number,
  ): boolean {
    const { grid, rule, point } = this;
    grid.pointAt(i, j, k, point);
    const seen = rule.lookAlong(point[0], point[1], point[2]);
    if (seen === RUBBER) {
      if (Math.min(ownMm, otherMm) - radiusMm <= rule.rootMm) return false;
      this.set(i, j, k, size, size, size, RUBBER);
      return true;
    }
    if (ownMm - otherMm > 2 * radiusMm + rule.overlapMm) {
      this.set(i, j, k, size, size, size, OTHER);
      return true;
    }
    if (otherMm - ownMm <= 2 * radiusMm) return false;
    // Nothing lies inside the block: what is over its lowest cell is over the whole column.
    for (let n = 0; n < size; n++) {
      for (let m = 0; m < size; m++) {
        grid.pointAt(i + m, j + n, k, point);
        const state = rule.lookAlong(point[0], point[1], point[2]);
        this.set(i + m, j + n, k, 1, 1, size, state === RUBBER ? OPEN : state);
      }
    }
    return true;
  }

  private set(i: number, j: number, k: number, ni: number, nj: number, nk: number, state: number): void {
    const { grid } = this;
    const first = grid.cellAt(i, j, k);
    for (let c = 0; c < nk; c++) {
      for (let b = 0; b < nj; b++) {
        const row = first + BRICK * (b + BRICK * c);
        grid.state.fill(state, row, row + ni);
      }
    }
  }
}
