import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { cubeCuts, cubeReach } from './cubeCut.ts';
import { SurfaceWalk } from './SurfaceWalk.ts';

/** A level set that passes a cube cannot be farther from its centre than half the cube's diagonal, in edges. */
const HALF_DIAGONAL = Math.sqrt(3) / 2;

/**
 * A part is halved again while the distance at the centre of one of its eighths is farther than this from the plane through
 * its own centre, in edges of the part; a cell with a slight crease while it is farther than the second. Own trials on boxes.
 */
const FLAT = 0.05;
const FLAT_SLIGHT = 0.1;

/** Nearer to S than this, in cell edges, round edges are so narrow that every sharp cell is halved at least once more. */
const ROUND_CELLS = 2;

/** Halvings at most: sixteenths of the cell beside S, quarters elsewhere, where level sets are round. */
const MOST_HALVINGS = 2;
const MOST_HALVINGS_BESIDE = 4;

/** Mean of x' H x over the centres of the eighths of a cube is 3/4 of that over the cube; over an eighth it is 1/4 of the cube's. */
const SHIFT_OF_EIGHTHS = 1 / 3;

/** Nearer to S than this many cell edges there is no direction; the triangle's normal is taken. */
const NO_DIRECTION_CELLS = 1e-5;

/** Numbers of a part: distance, direction x y z in which it grows, triangle. */
const PART = 5;
const EIGHTHS = 8;

/** Whose word on the side of a point counts: the cell's, that of S, or the opposite of what S says. */
type Side = 'outside' | 'inside' | 'as S has it' | 'turned';

/**
 * A cell in which the distance bends sharply - an edge, a corner, a valley or the fan over one of them passes - cut in eighths
 * again and again, each with its own exact nearest point, until a plane will do. Reads the triangles of the six cells around,
 * nothing farther. Scratch belongs to the instance.
 */
export class SharpCell {
  /** Knots from `first` on may cut the cell (shares[k - first]); from `full` on hold it whole. */
  first = 0;
  full = 0;
  readonly shares: Float64Array;
  private readonly walk: SurfaceWalk;
  /** Number of each triangle of the mesh in the surface's own order. */
  private readonly placeOf: Int32Array;
  private readonly starts = new Int32Array(4);
  private startCount = 0;
  private halvings = MOST_HALVINGS;
  /** PART numbers for each eighth, at each halving. */
  private readonly parts = new Float64Array(MOST_HALVINGS_BESIDE * EIGHTHS * PART);
  private readonly cuts: Float64Array;
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly knotMm: number,
    private readonly knotCount: number,
  ) {
    const { ids } = source.ordered;
    this.walk = new SurfaceWalk(source.ordered);
    this.placeOf = new Int32Array(source.isSurface.length).fill(-1);
    for (let t = 0; t < ids.length; t++) this.placeOf[ids[t]] = t;
    const room = Math.ceil((2 * grid.cellMm) / knotMm) + 3;
    this.shares = new Float64Array(room);
    this.cuts = new Float64Array(room);
  }

  /**
   * Cuts a cell by every knot: its centre x y z, the signed distance phi there and the direction gx gy gz in which it
   * grows. False when no knot holds any of it. A slight crease is not looked for beyond the eighths.
   */
  cut(
    brick: number,
    local: number,
    x: number,
    y: number,
    z: number,
    phi: number,
    gx: number,
    gy: number,
    gz: number,
    isSlight: boolean,
  ): boolean {
    const { grid, knotMm, parts } = this;
    const h = grid.cellMm;
    const reach = HALF_DIAGONAL * h;
    this.first = Math.max(0, Math.ceil((phi - reach) / knotMm));
    if (this.first >= this.knotCount) return false;
    this.full = Math.max(this.first, Math.min(this.knotCount, Math.ceil((phi + reach) / knotMm)));
    this.shares.fill(0, 0, this.full - this.first);
    const isBeside = Math.abs(phi) < reach;
    this.halvings = isBeside ? MOST_HALVINGS_BESIDE : MOST_HALVINGS;
    const own = this.placeOf[grid.tri[brick * BRICK_CELLS + local]];
    let side: Side = phi < 0 ? 'inside' : 'outside';
    if (isBeside) {
      this.walk.run(own, x, y, z);
      side = this.walk.signedDistance() < 0 === phi < 0 ? 'as S has it' : 'turned';
    }
    const q = h / 4;
    let sum = 0;
    let most = 0;
    for (let e = 0; e < EIGHTHS; e++) {
      const dx = e & 1 ? q : -q;
      const dy = e & 2 ? q : -q;
      const dz = e & 4 ? q : -q;
      this.gather(brick, local, own, e);
      this.measure(x + dx, y + dy, z + dz, side, own, e * PART);
      const off = parts[e * PART] - (phi + gx * dx + gy * dy + gz * dz);
      sum += off;
      most = Math.max(most, Math.abs(off));
    }
    if (isSlight ? most <= FLAT_SLIGHT * h : Math.abs(phi) > ROUND_CELLS * h && most <= FLAT * h) {
      const shift = (SHIFT_OF_EIGHTHS * sum) / EIGHTHS;
      for (let e = 0; e < EIGHTHS; e++) this.addPlane(e * PART, shift, h / 2, 1 / EIGHTHS);
      return true;
    }
    for (let e = 0; e < EIGHTHS; e++) {
      this.gather(brick, local, own, e);
      this.cutPart(
        x + (e & 1 ? q : -q),
        y + (e & 2 ? q : -q),
        z + (e & 4 ? q : -q),
        h / 2,
        1,
        e * PART,
        side,
      );
    }
    return true;
  }

  /** Adds the shares of one part with edge `edgeMm`, made by so many halvings, its numbers at parts[at ...]. */
  private cutPart(
    x: number,
    y: number,
    z: number,
    edgeMm: number,
    halvings: number,
    at: number,
    sideAbove: Side,
  ): void {
    const { knotMm, parts } = this;
    const phi = parts[at];
    const reach = HALF_DIAGONAL * edgeMm;
    const edge = edgeMm / this.grid.cellMm;
    const share = edge * edge * edge;
    const next = Math.max(0, Math.ceil((phi - reach) / knotMm));
    if (next * knotMm > phi + reach) {
      this.addFrom(next, share);
      return;
    }
    if (halvings >= this.halvings) {
      this.addPlane(at, 0, edgeMm, share);
      return;
    }
    const side = Math.abs(phi) > reach ? (phi < 0 ? 'inside' : 'outside') : sideAbove;
    const q = edgeMm / 4;
    const below = halvings * EIGHTHS * PART;
    const gx = parts[at + 1];
    const gy = parts[at + 2];
    const gz = parts[at + 3];
    const tri = parts[at + 4];
    let sum = 0;
    let most = 0;
    for (let e = 0; e < EIGHTHS; e++) {
      const dx = e & 1 ? q : -q;
      const dy = e & 2 ? q : -q;
      const dz = e & 4 ? q : -q;
      this.measure(x + dx, y + dy, z + dz, side, tri, below + e * PART);
      const off = parts[below + e * PART] - (phi + gx * dx + gy * dy + gz * dz);
      sum += off;
      most = Math.max(most, Math.abs(off));
    }
    if (most <= FLAT * edgeMm) {
      const shift = (SHIFT_OF_EIGHTHS * sum) / EIGHTHS;
      for (let e = 0; e < EIGHTHS; e++) this.addPlane(below + e * PART, shift, edgeMm / 2, share / EIGHTHS);
      return;
    }
    for (let e = 0; e < EIGHTHS; e++) {
      this.cutPart(
        x + (e & 1 ? q : -q),
        y + (e & 2 ? q : -q),
        z + (e & 4 ? q : -q),
        edgeMm / 2,
        halvings + 1,
        below + e * PART,
        side,
      );
    }
  }

  /** Cuts a part by the plane through its own distance, `shift` farther, and direction. */
  private addPlane(at: number, shift: number, edgeMm: number, share: number): void {
    const { knotMm, cuts, shares, parts, first } = this;
    const phi = parts[at] + shift;
    const gx = parts[at + 1];
    const gy = parts[at + 2];
    const gz = parts[at + 3];
    const reach = cubeReach(gx, gy, gz) * edgeMm;
    const from = Math.max(first, Math.ceil((phi - reach) / knotMm));
    const to = Math.max(from, Math.min(this.full, Math.ceil((phi + reach) / knotMm)));
    cubeCuts(gx, gy, gz, (from * knotMm - phi) / edgeMm, knotMm / edgeMm, to - from, cuts);
    for (let k = from; k < to; k++) shares[k - first] += share * cuts[k - from];
    this.addFrom(to, share);
  }

  /** From knot `knot` on the part is held whole. */
  private addFrom(knot: number, share: number): void {
    const { shares, first, full } = this;
    for (let k = Math.max(first, knot); k < full; k++) shares[k - first] += share;
  }

  /** Triangles to start from in one eighth of the cell: its own and those of the three cells that it borders on. */
  private gather(brick: number, local: number, own: number, eighth: number): void {
    const { grid, starts } = this;
    const { corners } = grid;
    const i = corners[3 * brick] + (local & 7);
    const j = corners[3 * brick + 1] + ((local >> 3) & 7);
    const k = corners[3 * brick + 2] + (local >> 6);
    starts[0] = own;
    this.startCount = 1;
    for (let bit = 1; bit < EIGHTHS; bit += bit) {
      const step = eighth & bit ? 1 : -1;
      const cell = grid.cellAt(
        i + (bit === 1 ? step : 0),
        j + (bit === 2 ? step : 0),
        k + (bit === 4 ? step : 0),
      );
      if (cell < 0 || grid.tri[cell] < 0) continue;
      const tri = this.placeOf[grid.tri[cell]];
      let n = 0;
      while (n < this.startCount && starts[n] !== tri) n++;
      if (n === this.startCount) starts[this.startCount++] = tri;
    }
  }

  /** Distance, direction and triangle of a point, into parts[at ...]; the walk goes from `start` and all that were gathered. */
  private measure(x: number, y: number, z: number, side: Side, start: number, at: number): void {
    const { walk, starts, parts } = this;
    walk.run(start, x, y, z);
    for (let n = 0; n < this.startCount; n++) walk.consider(starts[n]);
    let phi: number;
    if (side === 'outside') phi = walk.distance();
    else if (side === 'inside') phi = -walk.distance();
    else phi = side === 'turned' ? -walk.signedDistance() : walk.signedDistance();
    parts[at] = phi;
    parts[at + 4] = walk.tri;
    if (Math.abs(phi) > NO_DIRECTION_CELLS * this.grid.cellMm) {
      const foot = walk.point();
      parts[at + 1] = (x - foot[0]) / phi;
      parts[at + 2] = (y - foot[1]) / phi;
      parts[at + 3] = (z - foot[2]) / phi;
      return;
    }
    const { normal } = this;
    // A triangle without area gives no normal; straight up keeps the part's volume, which then counts half.
    const length = writeTriNormal(this.source.mesh, this.source.ordered.ids[walk.tri], normal);
    parts[at + 1] = length > 0 ? normal[0] / length : 0;
    parts[at + 2] = length > 0 ? normal[1] / length : 0;
    parts[at + 3] = length > 0 ? normal[2] / length : 1;
  }
}
