import type { Checkpoint } from '../checkpoint.ts';
import { vectorLength } from '../mesh/vectorLength.ts';
import type { TrowelGround } from './TrowelGround.ts';
import { TrowelReach } from './TrowelReach.ts';

/** Points of the ground are a sixth of the trowel's radius apart, or wider, so that so many cover the mould. Own choice. */
const SPACINGS_A_RADIUS = 6;
const USUAL_POINTS = 20_000;
/** Where that would be too wide for the trowel, so many are taken: three times the work. Own choice. */
const MOST_POINTS = 60_000;
/** The trowel is followed as long as its radius is this many spacings. */
const LEAST_SPACINGS_A_RADIUS = 2;
/** Wider than this they would miss what a coat covers, mm. Own choice. */
const WIDEST_SPACING_MM = 5;
/** Narrower than this nobody trowels, mm. Own choice. */
const NARROWEST_SPACING_MM = 0.5;

/** Fills below this, as a share of the spacing, are the lattice's own unevenness and are not told. */
const TOLD_SHARE = 0.03;
/** How far a resting place may dip into the shell, as a share of the spacing. */
const DIP_SHARE = 0.005;
/** Nodes this near D = r are laid on it, in lattice steps: wide enough that every cell that it crosses gives one. */
const RESTING_BAND = 0.9;
/** Halvings of the step by which a resting place is sought. */
const HALVINGS = 4;
/** Pushes by which a place that dips into the shell is brought out again. */
const PUSHES = 4;

/**
 * How far apart the ground's points have to be for this trowel on this much surface, mm. Null: it is too small for a mould of this size to be
 * followed, and the finish counts as brushed, which is on the thin side.
 */
export function trowelSpacingMm(radiusMm: number, areaMm2: number): number | null {
  const wanted = Math.max(NARROWEST_SPACING_MM, Math.min(WIDEST_SPACING_MM, radiusMm / SPACINGS_A_RADIUS));
  const widest = radiusMm / LEAST_SPACINGS_A_RADIUS;
  const usual = Math.max(wanted, Math.min(widest, Math.sqrt(areaMm2 / USUAL_POINTS)));
  const spacing = Math.max(usual, Math.sqrt(areaMm2 / MOST_POINTS));
  return spacing <= widest ? spacing : null;
}

/**
 * How much a levelled finish adds to the thickness at each vertex, mm, along the normal: the outside, which lies
 * `heightsMm` (by vertex, NaN off S) over the mesh, is closed by a ball of `radiusMm`: what no such ball can reach from
 * without is filled. Never negative: levelling fills hollows and takes nothing off a ridge. At most the radius.
 *
 * A ball whose centre is D >= r away from the outside rolls over it; the height at a vertex is where its normal first meets
 * such a ball. Centres are taken on a lattice, laid on D = r, and the lowest one is let down further until it rests. What
 * the lattice alone would add on an even surface is taken off (TOLD_SHARE).
 *
 * Never more than the closing itself gives; less where the coat thins quickly (what already stands over the point's own height is taken off),
 * and at sharp edges, which are met within half a spacing.
 * Limits: the board and the parting wall hold no trowel up, so the corner at either stays as brushed; the trowel is a ball, not
 * a blade that bends.
 * Cost: O(points * (reach / spacing)), about 0.1 to 0.4 s; memory O(nodes). Source: own, after the definition of closing (J. Serra, Image
 * Analysis and Mathematical Morphology, 1982, from memory).
 */
export async function levelFinish(
  ground: TrowelGround,
  heightsMm: Float64Array,
  radiusMm: number,
  cp: Checkpoint,
): Promise<Float64Array> {
  const fills = await fillAtPoints(ground, heightsAtPoints(ground, heightsMm), radiusMm, cp);
  const { starts, speakers, shares } = ground;
  const out = new Float64Array(heightsMm.length);
  for (let v = 0; v < out.length; v++) {
    let sum = 0;
    for (let s = starts[v]; s < starts[v + 1]; s++) sum += shares[s] * fills[speakers[s]];
    out[v] = sum;
  }
  return out;
}

/** Mean height of the vertices that a point speaks for; between the corners of its triangle where it stands for none. */
function heightsAtPoints(ground: TrowelGround, heightsMm: Float64Array): Float64Array {
  const { corners, cornerShares } = ground;
  const out = new Float64Array(corners.length / 3);
  for (let n = 0; n < out.length; n++) {
    for (let k = 0; k < 3; k++) {
      const share = cornerShares[3 * n + k];
      if (share > 0) out[n] += share * heightsMm[corners[3 * n + k]];
    }
  }
  return out;
}

/** What levelling adds at each point of the ground, mm. */
async function fillAtPoints(
  { points, normals, spacingMm }: TrowelGround,
  heightsMm: Float64Array,
  radiusMm: number,
  cp: Checkpoint,
): Promise<Float64Array> {
  await cp.pause(0);
  const reach = new TrowelReach(points, normals, heightsMm, spacingMm, radiusMm);
  await cp.pause(0.5);
  const fills = new Float64Array(heightsMm.length);
  const step = reach.spacingMm;
  const dipMm = DIP_SHARE * step;
  const toldMm = TOLD_SHARE * step;
  const centres = new RestingPlaces(reach, points, radiusMm, dipMm);
  const ball = new RollingBall(reach, points, radiusMm, dipMm);
  for (let n = 0; n < fills.length; n++) {
    if ((n & 0xff) === 0 && cp.due()) await cp.pause(0.5 + (0.5 * n) / fills.length);
    const height = heightsMm[n];
    ball.over(points, normals, n);
    const { x, y, z, nx, ny, nz } = ball;
    const up = height + radiusMm;
    // The common case: a ball rests on this very point, so nothing is filled.
    if (reach.distance(x + up * nx, y + up * ny, z + up * nz, n) > radiusMm - dipMm) continue;
    // Neighbours may stand over the point's own height where the coat thins quickly: that is not the trowel's doing.
    const bare = ball.bareHeight(height, n);
    const least = ball.settle(centres, height, Math.max(bare, height) + radiusMm);
    const fill = Math.min(radiusMm, least - Math.max(bare, height));
    if (fill > toldMm) fills[n] = fill;
  }
  return fills;
}

/** Places of a ball's centre at which it touches the shell, a lattice step apart, sorted into cubes of half the radius. */
class RestingPlaces {
  readonly at: Float64Array;
  /** By cube the first of its places, and by place the next in its cube; -1: none. */
  private readonly first: Int32Array;
  private readonly next: Int32Array;
  private readonly cubeMm: number;
  private readonly origin = [Infinity, Infinity, Infinity];
  private readonly size = [1, 1, 1];

  constructor(reach: TrowelReach, points: Float64Array, radiusMm: number, dipMm: number) {
    this.cubeMm = Math.max(radiusMm / 2, reach.spacingMm);
    const found: number[] = [];
    const band = RESTING_BAND * reach.spacingMm;
    const place = new Float64Array(3);
    reach.eachBetween(radiusMm - band, radiusMm + band, (x, y, z) => {
      if (pushOut(reach, points, radiusMm, dipMm, x, y, z, true, place))
        found.push(place[0], place[1], place[2]);
    });
    this.at = Float64Array.from(found);
    const most = [0, 0, 0];
    for (let i = 0; i < found.length; i++) {
      const k = i % 3;
      this.origin[k] = Math.min(this.origin[k], found[i]);
      most[k] = i < 3 ? found[i] : Math.max(most[k], found[i]);
    }
    if (found.length > 0) this.size = most.map((x, k) => this.cube(x, k) + 1);
    this.first = new Int32Array(this.size[0] * this.size[1] * this.size[2]).fill(-1);
    this.next = new Int32Array(found.length / 3);
    for (let n = 0; n < this.next.length; n++) {
      const [i, j, k] = [0, 1, 2].map((a) => this.cube(found[3 * n + a], a));
      const cube = i + this.size[0] * (j + this.size[1] * k);
      this.next[n] = this.first[cube];
      this.first[cube] = n;
    }
  }

  /** Writes to `out` the numbers of the places in the cubes that come within `farMm` of (x, y, z); returns how many. */
  near(x: number, y: number, z: number, farMm: number, out: number[]): number {
    const { size, first, next } = this;
    const lo = [x, y, z].map((c, a) => Math.max(0, this.cube(c - farMm, a)));
    const hi = [x, y, z].map((c, a) => Math.min(size[a] - 1, this.cube(c + farMm, a)));
    let count = 0;
    for (let k = lo[2]; k <= hi[2]; k++) {
      for (let j = lo[1]; j <= hi[1]; j++) {
        for (let i = lo[0]; i <= hi[0]; i++) {
          for (let n = first[i + size[0] * (j + size[1] * k)]; n >= 0; n = next[n]) out[count++] = n;
        }
      }
    }
    return count;
  }

  private cube(x: number, axis: number): number {
    return Math.floor((x - this.origin[axis]) / this.cubeMm);
  }
}

/** Lets a ball down along one point's normal. */
class RollingBall {
  x = 0;
  y = 0;
  z = 0;
  nx = 0;
  ny = 0;
  nz = 0;
  private readonly place = new Float64Array(3);
  private readonly numbers: number[] = [];

  constructor(
    private readonly reach: TrowelReach,
    private readonly points: Float64Array,
    private readonly radiusMm: number,
    private readonly dipMm: number,
  ) {}

  over(points: Float64Array, normals: Float64Array, n: number): void {
    this.x = points[3 * n];
    this.y = points[3 * n + 1];
    this.z = points[3 * n + 2];
    this.nx = normals[3 * n];
    this.ny = normals[3 * n + 1];
    this.nz = normals[3 * n + 2];
  }

  /** Where the normal leaves the shell as it is, mm over the point. */
  bareHeight(heightMm: number, n: number): number {
    let s = heightMm;
    for (let step = 0; step < 8; step++) {
      const d = this.reach.distance(this.x + s * this.nx, this.y + s * this.ny, this.z + s * this.nz, n);
      if (d > -this.dipMm || d === Number.NEGATIVE_INFINITY) break;
      s -= d;
    }
    return s;
  }

  /** Height at which the normal first meets a ball that rests on the shell, or `mostMm`. */
  settle(centres: RestingPlaces, heightMm: number, mostMm: number): number {
    const { x, y, z, nx, ny, nz, radiusMm, reach, place } = this;
    const mid = heightMm + radiusMm / 2;
    let best = mostMm;
    const count = centres.near(x + mid * nx, y + mid * ny, z + mid * nz, 1.5 * radiusMm, this.numbers);
    let lowest = -1;
    for (let n = 0; n < count; n++) {
      const c = 3 * this.numbers[n];
      const s = this.meets(centres.at[c], centres.at[c + 1], centres.at[c + 2], heightMm);
      if (s >= best) continue;
      best = s;
      lowest = c;
    }
    if (lowest < 0) return mostMm;
    const at = centres.at.slice(lowest, lowest + 3);
    // Let it down: toward the normal's foot, inward, and to either side, by halving steps, pushed out of the shell each time.
    for (let halving = 0, step = reach.spacingMm / 2; halving < HALVINGS; ) {
      const dx = at[0] - x;
      const dy = at[1] - y;
      const dz = at[2] - z;
      const along = dx * nx + dy * ny + dz * nz;
      let ux = dx - along * nx;
      let uy = dy - along * ny;
      let uz = dz - along * nz;
      const off = vectorLength(ux, uy, uz);
      if (off < 1e-9) {
        // On the normal itself: any direction square to it will do.
        const isX = Math.abs(nx) < 0.6;
        ux = isX ? 1 - nx * nx : -nx * ny;
        uy = isX ? -ny * nx : 1 - ny * ny;
        uz = isX ? -nz * nx : -nz * ny;
      }
      const length = vectorLength(ux, uy, uz);
      ux /= length;
      uy /= length;
      uz /= length;
      const wx = ny * uz - nz * uy;
      const wy = nz * ux - nx * uz;
      const wz = nx * uy - ny * ux;
      let isLower = false;
      for (let way = 0; way < 5; way++) {
        const a = way === 0 ? -1 : way === 3 ? 1 : 0;
        const b = way === 1 ? 1 : way === 2 ? -1 : 0;
        const c = way === 4 ? -1 : 0;
        const isClear = pushOut(
          reach,
          this.points,
          radiusMm,
          this.dipMm,
          at[0] + step * (a * ux + b * wx + c * nx),
          at[1] + step * (a * uy + b * wy + c * ny),
          at[2] + step * (a * uz + b * wz + c * nz),
          false,
          place,
        );
        if (!isClear) continue;
        const s = this.meets(place[0], place[1], place[2], heightMm);
        if (s >= best) continue;
        best = s;
        at.set(place);
        isLower = true;
      }
      if (!isLower) {
        step /= 2;
        halving++;
      }
    }
    return best;
  }

  /** Height at which the normal meets a ball about (cx, cy, cz) from below; Infinity where it does not, or behind the shell. */
  private meets(cx: number, cy: number, cz: number, heightMm: number): number {
    const dx = cx - this.x;
    const dy = cy - this.y;
    const dz = cz - this.z;
    const along = dx * this.nx + dy * this.ny + dz * this.nz;
    const square = this.radiusMm * this.radiusMm - (dx * dx + dy * dy + dz * dz - along * along);
    if (square <= 0) return Infinity;
    const s = along - Math.sqrt(square);
    return s < heightMm - 2 * this.dipMm ? Infinity : s;
  }
}

/** Writes the place, moved along the way from its nearest point until it is `radiusMm` clear of the shell (drawn in too when `isLaid`). False: it finds no rest. */
function pushOut(
  reach: TrowelReach,
  points: Float64Array,
  radiusMm: number,
  dipMm: number,
  x: number,
  y: number,
  z: number,
  isLaid: boolean,
  out: Float64Array,
): boolean {
  for (let push = 0; push <= PUSHES; push++) {
    reach.find(x, y, z);
    const { point, distanceMm } = reach.found;
    if (distanceMm === Number.NEGATIVE_INFINITY) return false;
    const lack = radiusMm - distanceMm;
    if (lack <= dipMm && !(isLaid && push === 0)) {
      out[0] = x;
      out[1] = y;
      out[2] = z;
      return true;
    }
    const dx = x - points[3 * point];
    const dy = y - points[3 * point + 1];
    const dz = z - points[3 * point + 2];
    const scale = lack / (vectorLength(dx, dy, dz) || 1);
    x += scale * dx;
    y += scale * dy;
    z += scale * dz;
  }
  return false;
}
