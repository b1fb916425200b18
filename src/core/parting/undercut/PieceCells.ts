import { NearestTris, newNearestTri } from './NearestTris.ts';
import type { UndercutBody } from './UndercutBody.ts';

/** Halvings of the outermost cube: the smallest cells are a 70th of the body's size. */
const MOST_LEVELS = 7;

/**
 * Half the outermost cube, as a share of the body's diagonal: a column along any pull, over the body and no deeper than
 * its lowest point, stays in the box about the ball about the body, whose corners lie sqrt(3) / 2 = 0.87 from its middle.
 */
const HALF_CUBE_SHARE = 0.875;

/** Distances that differ by less than this share of the body's size are equal: the nearest point is on the line itself. */
const TIE_SHARE = 1e-12;

/** A column's crossing from one piece to another is found to this share of the body's size. */
const CROSSING_SHARE = 1e-5;

/** Or to this share of the stretch that is the region's, at a guess, when that is more; it errs to both sides alike. */
const CROSSING_SHARE_OF_GUESS = 0.01;

/** Steps of the search for a crossing; two to four do, or halving, which gains a factor of two each, takes over. */
const MOST_STEPS = 14;
const STEPS_BEFORE_HALVING = 6;

const UNKNOWN = -2;
const PARTED = -3;
const MIXED = -1;

/**
 * Which piece's each place around the rubber is: the one that its nearest point of the rubber belongs to.
 *
 * Asked of whole cubes where it can: the distance to each piece changes no faster than one moves, so a cube of half
 * diagonal r is all one piece's when at its middle that piece is nearer than any other by more than 2 r. Cubes are parted
 * only where a question comes by. Where the nearest point lies on the parting line itself, on a convex edge, the wall
 * halves the angle between the two faces. Not for use by two callers at once.
 */
export class PieceCells {
  private readonly trees: readonly (NearestTris | null)[];
  /** By cell: UNKNOWN, PARTED, MIXED or its region; and its first child. */
  private label = new Int32Array(1024).fill(UNKNOWN);
  private child = new Int32Array(1024);
  private count = 1;
  private readonly half: number;
  private readonly tieMm: number;
  private readonly crossingMm: number;
  private readonly hit = newNearestTri();
  private readonly otherHit = newNearestTri();
  private readonly distances: Float64Array;
  /** After `lengthIn`: a triangle of the cut surface, of the asked region and near the column's place in it; -1 for none. */
  nearTri = -1;
  /** After `leadOf`: see there. */
  pastMm = 0;
  // The cell that `find` found.
  private cell = 0;
  private cellX = 0;
  private cellY = 0;
  private cellZ = 0;
  private cellHalf = 0;

  constructor(private readonly body: UndercutBody) {
    const { cut, diagonalMm } = body;
    const { regionCount, cutTriRegion } = cut;
    this.half = HALF_CUBE_SHARE * diagonalMm;
    this.tieMm = TIE_SHARE * diagonalMm;
    this.crossingMm = CROSSING_SHARE * diagonalMm;
    this.distances = new Float64Array(regionCount);
    const counts = new Uint32Array(regionCount);
    for (const region of cutTriRegion) if (region >= 0) counts[region]++;
    const tris = Array.from(counts, (n) => new Uint32Array(n));
    counts.fill(0);
    for (let t = 0; t < cutTriRegion.length; t++) {
      const region = cutTriRegion[t];
      if (region >= 0) tris[region][counts[region]++] = t;
    }
    // A single piece owns every place: its tree is never asked.
    this.trees = tris.map((own) =>
      regionCount === 1 ? null : new NearestTris(cut.positions, cut.indices, own),
    );
  }

  /**
   * Which piece a place is, and how surely: the region's by `leadMm` above 0, else the rival's. A lead over `mostMm` is
   * given as that, with no rival.
   */
  stand(region: number, x: number, y: number, z: number, mostMm: number, out: PieceStand): void {
    const ownMm = this.distanceTo(region, x, y, z);
    let leastMm = ownMm + mostMm;
    out.rival = -1;
    for (let r = 0; r < this.trees.length; r++) {
      if (r === region || !this.trees[r]?.closestWithin(x, y, z, leastMm, this.otherHit)) continue;
      if (this.otherHit.distance >= leastMm) continue;
      leastMm = this.otherHit.distance;
      out.rival = r;
    }
    out.leadMm = leastMm - ownMm;
    out.distanceMm = Math.min(ownMm, leastMm);
  }

  /** Whether there is but one piece, whose all places are. */
  get isOnePiece(): boolean {
    return this.trees.length === 1;
  }

  /** Distance to the region's rubber, mm. */
  distanceTo(region: number, x: number, y: number, z: number): number {
    const isFound = this.trees[region]?.closestWithin(x, y, z, Infinity, this.hit) ?? false;
    return isFound ? this.hit.distance : Infinity;
  }

  /** Distance to the nearest rubber of any other region, mm. */
  distanceToOthers(region: number, x: number, y: number, z: number): number {
    let least = Infinity;
    for (let r = 0; r < this.trees.length; r++) {
      if (r !== region && this.trees[r]?.closestWithin(x, y, z, least, this.hit)) least = this.hit.distance;
    }
    return least;
  }

  /** Way from x y z along dx dy dz (unit) on which every place is surely the region's, mm; 0 where that is not known. */
  wayWithin(region: number, x: number, y: number, z: number, dx: number, dy: number, dz: number): number {
    const { half } = this;
    const [cx, cy, cz] = this.body.centre;
    // Cells at the border of the outermost cube are asked beyond it too, where their label says nothing.
    if (Math.abs(x - cx) > half || Math.abs(y - cy) > half || Math.abs(z - cz) > half) return 0;
    this.find(x, y, z);
    return this.label[this.cell] === region ? this.wayOut(x, y, z, dx, dy, dz) : 0;
  }

  /** Whether any of the column from x y z along dx dy dz (unit), `lengthMm` long, may lie with the region. Never wrong when it says no. */
  mayHold(
    region: number,
    x: number,
    y: number,
    z: number,
    dx: number,
    dy: number,
    dz: number,
    lengthMm: number,
  ): boolean {
    if (this.trees.length === 1) return true;
    let s = 0;
    while (s < lengthMm) {
      this.find(x + s * dx, y + s * dy, z + s * dz);
      const label = this.label[this.cell];
      if (label === region || label === MIXED) return true;
      s += this.wayOut(x + s * dx, y + s * dy, z + s * dz, dx, dy, dz);
    }
    return false;
  }

  /** Length of the column from x y z along dx dy dz (unit), `lengthMm` long, that lies with the region, mm. */
  lengthIn(
    region: number,
    x: number,
    y: number,
    z: number,
    dx: number,
    dy: number,
    dz: number,
    lengthMm: number,
  ): number {
    this.nearTri = -1;
    if (this.trees.length === 1) return lengthMm;
    let sum = 0;
    let s = 0;
    let isKnown = false;
    let fromPast = 0;
    while (s < lengthMm) {
      const px = x + s * dx;
      const py = y + s * dy;
      const pz = z + s * dz;
      this.find(px, py, pz);
      const label = this.label[this.cell];
      const end = Math.min(lengthMm, s + this.wayOut(px, py, pz, dx, dy, dz));
      if (label === region) sum += end - s;
      if (label === MIXED) {
        if (!isKnown) {
          this.leadOf(region, px, py, pz);
          fromPast = this.pastMm;
        }
        this.leadOf(region, x + end * dx, y + end * dy, z + end * dz);
        const toPast = this.pastMm;
        sum += this.crossed(region, x, y, z, dx, dy, dz, s, end, fromPast, toPast);
        fromPast = toPast;
      }
      isKnown = label === MIXED;
      s = end;
    }
    return sum;
  }

  /** Length between s0 and s1 that lies with the region; way past the border (g) known at both ends. */
  private crossed(
    region: number,
    x: number,
    y: number,
    z: number,
    dx: number,
    dy: number,
    dz: number,
    s0: number,
    s1: number,
    g0: number,
    g1: number,
  ): number {
    const length = s1 - s0;
    if (g0 > 0 === g1 > 0) {
      // In and out again within one of the smallest cells is left out.
      return g0 > 0 ? length : 0;
    }
    // False position, each guess followed by one a tolerance beyond it: two guesses close the bracket where the way past the
    // border is all but straight. Over a convex edge it jumps, from the border of the wedge whose nearest point is the edge
    // itself; its sign is right even there, and halving takes over.
    const guess = (g0 * length) / (g0 - g1);
    const tolerance = Math.max(this.crossingMm, CROSSING_SHARE_OF_GUESS * (g0 > 0 ? guess : length - guess));
    let a = s0;
    let b = s1;
    let ga = g0;
    let gb = g1;
    let beyond = 0;
    for (let n = 0; n < MOST_STEPS && b - a > tolerance; n++) {
      let s = beyond !== 0 ? (beyond > 0 ? a : b) + beyond : (a * gb - b * ga) / (gb - ga);
      if (n >= STEPS_BEFORE_HALVING || !(s > a && s < b)) s = (a + b) / 2;
      this.leadOf(region, x + s * dx, y + s * dy, z + s * dz);
      const g = this.pastMm;
      const isProbe = beyond !== 0;
      if (g > 0 === gb > 0) {
        b = s;
        gb = g;
        beyond = isProbe ? 0 : -tolerance;
      } else {
        a = s;
        ga = g;
        beyond = isProbe ? 0 : tolerance;
      }
    }
    const at = (a + b) / 2;
    return g0 > 0 ? at - s0 : s1 - at;
  }

  /**
   * By how much the region is nearer than any other, mm; below 0 where it is not. `pastMm` is then how far the place
   * lies past the border, about: next to the parting line both distances are those of a right triangle with the way to
   * the border as its third side, and the lead itself has no slope there.
   */
  leadOf(region: number, x: number, y: number, z: number): number {
    const own = this.trees[region];
    if (own === null) return -Infinity;
    own.closestWithin(x, y, z, Infinity, this.hit);
    this.nearTri = this.hit.tri;
    let rival = -1;
    let least = Infinity;
    for (let r = 0; r < this.trees.length; r++) {
      const tree = this.trees[r];
      if (r === region || tree === null) continue;
      if (tree.closestWithin(x, y, z, least, this.otherHit) && this.otherHit.distance < least) {
        least = this.otherHit.distance;
        rival = this.otherHit.tri;
      }
    }
    const own2 = this.hit.distance * this.hit.distance;
    const lead = least - this.hit.distance;
    this.pastMm =
      Math.abs(lead) > this.tieMm || rival < 0
        ? Math.sign(lead) * Math.sqrt(Math.abs(least * least - own2))
        : this.pastBisector(this.nearTri, rival, x, y, z);
    return lead;
  }

  /**
   * Distance of x y z, whose nearest point lies on the line between two triangles, from the plane that halves
   * the angle between their normals; above 0 on the first one's side. 0 where both lie in one plane.
   */
  private pastBisector(own: number, rival: number, x: number, y: number, z: number): number {
    const n = this.body.normals;
    const { point } = this.hit;
    const mx = n[3 * own] - n[3 * rival];
    const my = n[3 * own + 1] - n[3 * rival + 1];
    const mz = n[3 * own + 2] - n[3 * rival + 2];
    const length = Math.sqrt(mx * mx + my * my + mz * mz);
    if (length === 0) return 0;
    return (mx * (x - point[0]) + my * (y - point[1]) + mz * (z - point[2])) / length;
  }

  /** Sets `cell` to the smallest known cell at x y z, parting cells as needed; outside the cube, to the one at its border. */
  private find(x: number, y: number, z: number): void {
    let cell = 0;
    let half = this.half;
    let [cx, cy, cz] = this.body.centre;
    for (let level = 0; ; level++) {
      let label = this.label[cell];
      if (label === UNKNOWN) {
        label = this.judge(cx, cy, cz, half, level);
        this.label[cell] = label;
        if (label === PARTED) {
          // First the cells, which may move the lists, then the entry.
          const first = this.newCells();
          this.child[cell] = first;
        }
      }
      if (label !== PARTED) break;
      half /= 2;
      const ix = x > cx ? 1 : 0;
      const iy = y > cy ? 1 : 0;
      const iz = z > cz ? 1 : 0;
      cx += ix === 1 ? half : -half;
      cy += iy === 1 ? half : -half;
      cz += iz === 1 ? half : -half;
      cell = this.child[cell] + ix + 2 * iy + 4 * iz;
    }
    this.cell = cell;
    this.cellX = cx;
    this.cellY = cy;
    this.cellZ = cz;
    this.cellHalf = half;
  }

  /** Way from x y z, in the found cell, along a direction to just past where it leaves the cell, mm. */
  private wayOut(x: number, y: number, z: number, dx: number, dy: number, dz: number): number {
    const h = this.cellHalf;
    const sx = dx === 0 ? Infinity : (dx > 0 ? this.cellX + h - x : this.cellX - h - x) / dx;
    const sy = dy === 0 ? Infinity : (dy > 0 ? this.cellY + h - y : this.cellY - h - y) / dy;
    const sz = dz === 0 ? Infinity : (dz > 0 ? this.cellZ + h - z : this.cellZ - h - z) / dz;
    return Math.max(0, Math.min(sx, sy, sz)) + this.crossingMm / 8;
  }

  private judge(x: number, y: number, z: number, half: number, level: number): number {
    const reach = 2 * Math.sqrt(3) * half;
    let best = -1;
    let least = Infinity;
    const { distances } = this;
    for (let r = 0; r < this.trees.length; r++) {
      const tree = this.trees[r];
      const isNear = tree?.closestWithin(x, y, z, least + reach, this.hit) ?? false;
      distances[r] = isNear ? this.hit.distance : Infinity;
      if (distances[r] < least) {
        least = distances[r];
        best = r;
      }
    }
    for (let r = 0; r < distances.length; r++) {
      if (r !== best && distances[r] <= least + reach) return level < MOST_LEVELS ? PARTED : MIXED;
    }
    return best;
  }

  private newCells(): number {
    const first = this.count;
    this.count += 8;
    if (this.count > this.label.length) {
      const label = new Int32Array(2 * this.label.length).fill(UNKNOWN);
      label.set(this.label);
      this.label = label;
      const child = new Int32Array(2 * this.child.length);
      child.set(this.child);
      this.child = child;
    }
    return first;
  }
}

/** How a place lies between a region and the others. */
export interface PieceStand {
  /** The nearest other region, -1 for none near. */
  rival: number;
  /** By how much the region is nearer than the rival, mm; below 0 where it is not. */
  leadMm: number;
  /** To the nearest rubber, mm. */
  distanceMm: number;
}
