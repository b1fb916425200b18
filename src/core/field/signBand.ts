import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { crossingsAlong } from './crossingsAlong.ts';
import type { NearCells } from './measureNear.ts';

/** The winding number that parts inside from outside (1 inside, 0 outside; half-way keeps the most defects out). */
export const INSIDE_ABOVE = 0.5;

/**
 * Two neighbours whose distances add to more than this many cell edges lie on one side. 1 would do for exact distances; the
 * walk may end a little too far off in a sharp valley, and then 1 would let the sides flow together.
 */
const SAME_SIDE_CELLS = 1.25;

/** Smaller groups have no vote of their own: a cell close to S is often linked to none. */
const LEAST_GROUP = 8;

/** A larger share of a group with the other sign than the most is no slip of single cells. */
const MOST_SLIPS = 0.05;

/** Cells between two looks at the clock. */
const CHUNK = 4096;

/**
 * Decides the sign of the near cells: inside negative, in `grid.phi` and `near.phi`.
 *
 * On a closed surface two neighbouring cells whose distances add to more than their spacing lie on the same side, because
 * the distance is 1-Lipschitz: a path through S would cost each its own distance. Such cells are joined; each cell brings
 * the sign of its nearest face, and the group takes that of the most. A ray from the group's cell farthest from S is the
 * second witness. Where both say the same of every group the surface is clean and single cells keep their face's sign; where
 * not (faces wound the wrong way, walls that pass through one another), a winding number decides for every group.
 * On a surface with holes the sides flow together round the rims, so there every cell is asked by itself.
 *
 * @param wallMm cells as near to S as this must have a side.
 * @param rayAxis axis of the ray: along it S must be whole.
 */
export async function signBand(
  grid: BandGrid,
  source: BandSource,
  near: NearCells,
  wallMm: number,
  isClosed: boolean,
  rayAxis: 0 | 2,
  cp: Checkpoint,
): Promise<void> {
  if (!isClosed) {
    await askEveryCell(grid, source, near, wallMm, cp);
    return;
  }
  const leader = joinSameSides(grid, near);
  await cp.pause(0.3);
  const groups = gatherGroups(leader, near);
  await cp.pause(0.4);
  const witness = groups.filter((group) => group.size >= LEAST_GROUP);
  const points = new Float64Array(3 * witness.length);
  witness.forEach((group, n) => {
    writeCentre(grid, near.cells[group.spokesman], points, 3 * n);
  });
  const crossings = crossingsAlong(rayAxis, source.ordered, points);
  await cp.pause(0.6);
  const isClean = witness.every(
    (group, n) =>
      Math.min(group.inside, group.size - group.inside) <= MOST_SLIPS * group.size &&
      crossings[n] > INSIDE_ABOVE === group.inside > group.size / 2,
  );
  if (isClean) {
    for (const group of witness) group.isInside = group.inside > group.size / 2;
  } else {
    const at = new Float64Array(3);
    for (let n = 0; n < groups.length; n++) {
      if (n % CHUNK === 0 && cp.due()) await cp.pause(0.6 + (0.4 * n) / groups.length);
      writeCentre(grid, near.cells[groups[n].spokesman], at, 0);
      groups[n].isInside = source.winding.windingNumber(at[0], at[1], at[2]) > INSIDE_ABOVE;
    }
  }
  const byLeader = new Int32Array(near.count);
  for (let g = 0; g < groups.length; g++) byLeader[groups[g].leader] = g;
  for (let n = 0; n < near.count; n++) {
    const group = groups[byLeader[leader[n]]];
    if (isClean && group.size < LEAST_GROUP) continue;
    setSide(grid, near, n, group.isInside);
  }
}

function setSide(grid: BandGrid, near: NearCells, n: number, isInside: boolean): void {
  const d = Math.abs(near.phi[n]);
  near.phi[n] = isInside ? -d : d;
  grid.phi[near.cells[n]] = near.phi[n];
}

/** Cells farther than `wallMm` from S need no answer: they are let go, and those outside are reached again by the wave. */
async function askEveryCell(
  grid: BandGrid,
  source: BandSource,
  near: NearCells,
  wallMm: number,
  cp: Checkpoint,
): Promise<void> {
  const at = new Float64Array(3);
  for (let n = 0; n < near.count; n++) {
    if (n % 64 === 0 && cp.due()) await cp.pause(n / near.count);
    if (Math.abs(near.phi[n]) > wallMm) {
      near.phi[n] = UNREACHED;
      grid.phi[near.cells[n]] = UNREACHED;
      continue;
    }
    writeCentre(grid, near.cells[n], at, 0);
    setSide(grid, near, n, source.winding.windingNumber(at[0], at[1], at[2]) > INSIDE_ABOVE);
  }
}

interface Group {
  readonly leader: number;
  size: number;
  /** How many cells their nearest face puts inside. */
  inside: number;
  /** The cell farthest from S. */
  spokesman: number;
  isInside: boolean;
}

/** All by their number in `near`. Leaves `leader` pointing straight at each group's first. */
function gatherGroups(leader: Int32Array, near: NearCells): Group[] {
  const groups: Group[] = [];
  const groupOf = new Int32Array(near.count);
  for (let n = 0; n < near.count; n++) {
    const root = findLeader(leader, n);
    leader[n] = root;
    // The leader is the first of its group.
    if (root === n) {
      groupOf[n] = groups.length;
      groups.push({ leader: n, size: 0, inside: 0, spokesman: n, isInside: false });
    }
    const group = groups[groupOf[root]];
    group.size++;
    if (near.phi[n] < 0) group.inside++;
    if (Math.abs(near.phi[n]) > Math.abs(near.phi[group.spokesman])) group.spokesman = n;
  }
  return groups;
}

/** Groups of near cells that must lie on one side, as a forest of leaders over their numbers in `near`. */
function joinSameSides(grid: BandGrid, near: NearCells): Int32Array {
  const { phi, tri, corners } = grid;
  const { cells } = near;
  const leader = new Int32Array(near.count);
  for (let n = 0; n < near.count; n++) leader[n] = n;
  const sameSideMm = grid.cellMm * SAME_SIDE_CELLS;
  for (let n = 0; n < near.count; n++) {
    const cell = cells[n];
    const d = Math.abs(phi[cell]);
    const brick = 3 * ((cell / BRICK_CELLS) | 0);
    const i = cell & 7;
    const j = (cell >> 3) & 7;
    const k = (cell >> 6) & 7;
    let next =
      i < 7 ? cell + 1 : grid.cellAt(corners[brick] + 8, corners[brick + 1] + j, corners[brick + 2] + k);
    if (next >= 0 && phi[next] !== UNREACHED && d + Math.abs(phi[next]) > sameSideMm)
      join(leader, n, tri[next]);
    next = j < 7 ? cell + 8 : grid.cellAt(corners[brick] + i, corners[brick + 1] + 8, corners[brick + 2] + k);
    if (next >= 0 && phi[next] !== UNREACHED && d + Math.abs(phi[next]) > sameSideMm)
      join(leader, n, tri[next]);
    next =
      k < 7 ? cell + 64 : grid.cellAt(corners[brick] + i, corners[brick + 1] + j, corners[brick + 2] + 8);
    if (next >= 0 && phi[next] !== UNREACHED && d + Math.abs(phi[next]) > sameSideMm)
      join(leader, n, tri[next]);
  }
  return leader;
}

/** The lower number leads, so that a leader is the first of its group. */
function join(leader: Int32Array, one: number, other: number): void {
  const a = findLeader(leader, one);
  const b = findLeader(leader, other);
  if (a < b) leader[b] = a;
  else leader[a] = b;
}

function findLeader(leader: Int32Array, cell: number): number {
  let at = cell;
  while (leader[at] !== at) {
    leader[at] = leader[leader[at]];
    at = leader[at];
  }
  return at;
}

function writeCentre(grid: BandGrid, cell: number, out: Float64Array, at: number): void {
  const { corners, origin, cellMm } = grid;
  const brick = 3 * ((cell / BRICK_CELLS) | 0);
  out[at] = origin[0] + (corners[brick] + (cell & 7) + 0.5) * cellMm;
  out[at + 1] = origin[1] + (corners[brick + 1] + ((cell >> 3) & 7) + 0.5) * cellMm;
  out[at + 2] = origin[2] + (corners[brick + 2] + ((cell >> 6) & 7) + 0.5) * cellMm;
}
