import type { FillableUndercut } from './BlockOut.ts';
import { FILLER, type FillerGrid, ROOT } from './FillerGrid.ts';

export interface KeptFiller {
  /** Cells of filler outside the rubber and above the board. */
  readonly cellCount: number;
  /** Of those, cells with a neighbour that is none: where the filler's surface passes. */
  readonly borderCount: number;
  /** Spots that the filler touches. */
  readonly spots: ReadonlySet<number>;
}

/** Passes over the cells until no two of them meet in an edge or a corner only; more have not been seen, and none is endless. */
const MOST_PASSES = 50;

/**
 * Marks in `grid.isKept` the cells that belong to the filler's solid: the connected parts of filler that touch an
 * accepted spot, with their roots in the rubber, less cells that meet the rest in an edge or a corner only, so that
 * the surface between kept and other cells is a manifold. O(cells).
 */
export function keepFiller(
  grid: FillerGrid,
  undercut: FillableUndercut,
  isAccepted: Uint8Array,
  standsOnBoard: boolean,
): KeptFiller {
  const { state, tri } = grid;
  const kept = new Uint8Array(grid.cellCount);
  grid.isKept = kept;
  const spots = new Set<number>();
  const isSeen = new Uint8Array(grid.cellCount);
  const c = new Int32Array(3);
  for (let start = 0; start < kept.length; start++) {
    if (state[start] !== FILLER || isSeen[start]) continue;
    const part = [start];
    isSeen[start] = 1;
    const touched = new Set<number>();
    for (let n = 0; n < part.length; n++) {
      const cell = part[n];
      if (tri[cell] >= 0 && undercut.triSpot[tri[cell]] >= 0) touched.add(undercut.triSpot[tri[cell]]);
      grid.coordsOf(cell, c);
      const [i, j, k] = c;
      for (const [di, dj, dk] of FACES) {
        const next = grid.cellAt(i + di, j + dj, k + dk);
        if (next < 0 || isSeen[next] || state[next] !== FILLER) continue;
        isSeen[next] = 1;
        part.push(next);
      }
    }
    if (![...touched].some((spot) => isAccepted[spot])) continue;
    for (const cell of part) kept[cell] = 1;
    for (const spot of touched) spots.add(spot);
  }
  for (let cell = 0; cell < kept.length; cell++) {
    if (state[cell] === ROOT && spots.has(undercut.triSpot[tri[cell]])) kept[cell] = 1;
  }
  dropLooseRoots(grid);
  dropDiagonals(grid);
  return { ...countCells(grid, standsOnBoard), spots };
}

const FACES: readonly (readonly [number, number, number])[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
];

/** Roots that hang on no filler are crumbs in the rubber: they go. */
function dropLooseRoots(grid: FillerGrid): void {
  const { isKept, state } = grid;
  const isHeld = new Uint8Array(isKept.length);
  const stack: number[] = [];
  for (let cell = 0; cell < isKept.length; cell++) {
    if (isKept[cell] && state[cell] === FILLER) {
      isHeld[cell] = 1;
      stack.push(cell);
    }
  }
  const c = new Int32Array(3);
  for (let cell = stack.pop(); cell !== undefined; cell = stack.pop()) {
    grid.coordsOf(cell, c);
    const [i, j, k] = c;
    for (const [di, dj, dk] of FACES) {
      const next = grid.cellAt(i + di, j + dj, k + dk);
      if (next < 0 || !isKept[next] || isHeld[next]) continue;
      isHeld[next] = 1;
      stack.push(next);
    }
  }
  isKept.set(isHeld);
}

/**
 * Takes away cells until the kept ones are well-composed: no two that share an edge only, none that share a corner only,
 * and no two others that do. Then the surface is a manifold (L. Latecki, 3D well-composed pictures, 1997).
 */
function dropDiagonals(grid: FillerGrid): void {
  const { isKept } = grid;
  const c = new Int32Array(3);
  const at = (i: number, j: number, k: number): number => {
    const cell = grid.cellAt(i, j, k);
    return cell >= 0 && isKept[cell] ? 1 : 0;
  };
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    let dropped = 0;
    for (let cell = 0; cell < isKept.length; cell++) {
      if (!isKept[cell]) continue;
      grid.coordsOf(cell, c);
      const [i, j, k] = c;
      // Inside a whole neighbourhood there is nothing to see.
      let open = 0;
      for (const [di, dj, dk] of FACES) open += 1 - at(i + di, j + dj, k + dk);
      if (open < 2) {
        if (open === 0 || !bridgesTwoGaps(at, i, j, k)) continue;
      } else if (!meetsInEdge(at, i, j, k) && !meetsInCorner(at, i, j, k) && !bridgesTwoGaps(at, i, j, k)) {
        continue;
      }
      isKept[cell] = 0;
      dropped++;
    }
    if (dropped === 0) return;
  }
}

type KeptAt = (i: number, j: number, k: number) => number;

/** A kept cell shares only an edge with this one. */
function meetsInEdge(at: KeptAt, i: number, j: number, k: number): boolean {
  for (let axis = 0; axis < 3; axis++) {
    for (let s = -1; s <= 1; s += 2) {
      for (let r = -1; r <= 1; r += 2) {
        const [a, b] =
          axis === 0
            ? [at(i, j + s, k), at(i, j, k + r)]
            : axis === 1
              ? [at(i + s, j, k), at(i, j, k + r)]
              : [at(i + s, j, k), at(i, j + r, k)];
        if (a || b) continue;
        const across =
          axis === 0 ? at(i, j + s, k + r) : axis === 1 ? at(i + s, j, k + r) : at(i + s, j + r, k);
        if (across) return true;
      }
    }
  }
  return false;
}

/** A kept cell shares only a corner with this one, the other six round it being no filler. */
function meetsInCorner(at: KeptAt, i: number, j: number, k: number): boolean {
  for (let n = 0; n < 8; n++) {
    const a = n & 1 ? 1 : -1;
    const b = n & 2 ? 1 : -1;
    const c = n & 4 ? 1 : -1;
    if (!at(i + a, j + b, k + c)) continue;
    const others =
      at(i + a, j, k) +
      at(i, j + b, k) +
      at(i, j, k + c) +
      at(i + a, j + b, k) +
      at(i + a, j, k + c) +
      at(i, j + b, k + c);
    if (others === 0) return true;
  }
  return false;
}

/** Of the eight cells round one of its corners just two are no filler, at opposite corners, and this one touches one of them. */
function bridgesTwoGaps(at: KeptAt, i: number, j: number, k: number): boolean {
  for (let n = 0; n < 8; n++) {
    const a = n & 1 ? 1 : -1;
    const b = n & 2 ? 1 : -1;
    const c = n & 4 ? 1 : -1;
    const x = at(i + a, j, k);
    const y = at(i, j + b, k);
    const z = at(i, j, k + c);
    const xy = at(i + a, j + b, k);
    const xz = at(i + a, j, k + c);
    const yz = at(i, j + b, k + c);
    if (!at(i + a, j + b, k + c) || x + y + z + xy + xz + yz !== 4) continue;
    if ((!x && !yz) || (!y && !xz) || (!z && !xy)) return true;
  }
  return false;
}

function countCells(grid: FillerGrid, standsOnBoard: boolean): { cellCount: number; borderCount: number } {
  const { isKept, state } = grid;
  const c = new Int32Array(3);
  const point = new Float64Array(3);
  let cellCount = 0;
  let borderCount = 0;
  for (let cell = 0; cell < isKept.length; cell++) {
    if (!isKept[cell] || state[cell] !== FILLER) continue;
    grid.coordsOf(cell, c);
    const [i, j, k] = c;
    grid.pointAt(i, j, k, point);
    if (standsOnBoard && point[2] <= 0) continue;
    cellCount++;
    const isBorder = FACES.some(([di, dj, dk]) => {
      const next = grid.cellAt(i + di, j + dj, k + dk);
      return next < 0 || !isKept[next] || state[next] !== FILLER;
    });
    if (isBorder) borderCount++;
  }
  return { cellCount, borderCount };
}
