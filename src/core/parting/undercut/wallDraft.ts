import type { Vec3 } from '../../mesh/TriMesh.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { LineChain } from '../chainSegments.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSegments } from '../types.ts';

/** Sine of the lean below which a parting wall is taken to run along the pull: 0.06 degrees, a hundredth of a millimetre over a shell. */
const WALL_SINE = 1e-3;

/** How the parting walls stand to the pulls. */
export interface WallDraft {
  /** By region: length of its lines along which the wall is in its way while the neighbour is on, mm. */
  readonly blockedMm: Float64Array;
  /** By region: least angle between its walls and its pull, degrees, negative where it is in the way; 90 without walls. */
  readonly leastDraftDeg: Float64Array;
  /** regionCount x regionCount: entry [i, j] is the length along which i is held by its wall towards j; and the length they share. */
  readonly heldMm: Float64Array;
  readonly sharedMm: Float64Array;
}

/**
 * The walls stand on the parting lines along the rubber's normal. At each segment m, the wall's normal from the
 * neighbour into the piece, has to lean with the piece's pull: m.d < 0 presses the piece into its neighbour.
 *
 * @param pulls unit, by region. @param windowMm the rubber's normal, and the line's direction, are averaged over this much of the line, as
 *   the wall itself is: what is shorter than the shell is thick, a wall does not follow.
 * Cost: O(points of the lines).
 */
export function wallDraft(
  surface: SurfaceContext,
  segments: CutSegments,
  chains: readonly LineChain[],
  regionCount: number,
  pulls: readonly Vec3[],
  windowMm: number,
): WallDraft {
  const blockedMm = new Float64Array(regionCount);
  const leastSine = new Float64Array(regionCount).fill(1);
  const heldMm = new Float64Array(regionCount * regionCount);
  const sharedMm = new Float64Array(regionCount * regionCount);
  const wall = new Float64Array(3);
  const add = (region: number, neighbour: number, sign: number, lengthMm: number): void => {
    const pull = pulls[region];
    const lean = sign * (wall[0] * pull[0] + wall[1] * pull[1] + wall[2] * pull[2]);
    if (lean < leastSine[region]) leastSine[region] = lean;
    const pair = region * regionCount + neighbour;
    sharedMm[pair] += lengthMm;
    if (lean >= -WALL_SINE) return;
    blockedMm[region] += lengthMm;
    heldMm[pair] += lengthMm;
  };
  for (const chain of chains) {
    const { left, right } = chain;
    if (left === right || left < 0 || right < 0) continue;
    const run = new ChainNormals(surface, segments, chain, windowMm);
    for (let s = 0; s < chain.segments.length; s++) {
      const lengthMm = run.writeWallNormal(s, wall);
      if (lengthMm === 0) continue;
      add(left, right, 1, lengthMm);
      add(right, left, -1, lengthMm);
    }
  }
  const leastDraftDeg = leastSine.map((sine) => (Math.asin(Math.max(-1, Math.min(1, sine))) * 180) / Math.PI);
  return { blockedMm, leastDraftDeg, heldMm, sharedMm };
}

/** The rubber's normal and the line's direction along a chain, averaged over a extent to both sides. */
class ChainNormals {
  /** segments + 1: length up to each point, mm. */
  private readonly arc: Float64Array;
  /** 3 x (segments + 1): sum of unit normals times length up to each point. */
  private readonly sums: Float64Array;

  constructor(
    surface: SurfaceContext,
    segments: CutSegments,
    private readonly chain: LineChain,
    private readonly windowMm: number,
  ) {
    const { points } = chain;
    const count = chain.segments.length;
    this.arc = new Float64Array(count + 1);
    this.sums = new Float64Array(3 * (count + 1));
    const normal = new Float64Array(3);
    for (let s = 0; s < count; s++) {
      const length = Math.hypot(
        points[3 * s + 3] - points[3 * s],
        points[3 * s + 4] - points[3 * s + 1],
        points[3 * s + 5] - points[3 * s + 2],
      );
      const scale =
        length / (writeTriNormal(surface.scan.mesh, segments.tri[chain.segments[s]], normal) || 1);
      this.arc[s + 1] = this.arc[s] + length;
      for (let k = 0; k < 3; k++) this.sums[3 * s + 3 + k] = this.sums[3 * s + k] + scale * normal[k];
    }
  }

  /** Writes the wall's unit normal at segment s, into the region on the left (n x t); returns the segment's length, 0 where there is none. */
  writeWallNormal(s: number, out: Float64Array): number {
    const { arc, sums, chain } = this;
    const { points } = chain;
    const length = arc[s + 1] - arc[s];
    if (length === 0) return 0;
    const middle = (arc[s] + arc[s + 1]) / 2;
    const from = this.pointBefore(middle - this.windowMm / 2, s);
    const to = this.pointAfter(middle + this.windowMm / 2, s + 1);
    let nx = sums[3 * to] - sums[3 * from];
    let ny = sums[3 * to + 1] - sums[3 * from + 1];
    let nz = sums[3 * to + 2] - sums[3 * from + 2];
    const n = Math.hypot(nx, ny, nz);
    // A extent that folds back on itself has no direction of its own: the segment speaks for itself.
    let tx = points[3 * to] - points[3 * from];
    let ty = points[3 * to + 1] - points[3 * from + 1];
    let tz = points[3 * to + 2] - points[3 * from + 2];
    let t = Math.hypot(tx, ty, tz);
    if (t < length / 2) {
      tx = points[3 * s + 3] - points[3 * s];
      ty = points[3 * s + 4] - points[3 * s + 1];
      tz = points[3 * s + 5] - points[3 * s + 2];
      t = length;
    }
    nx /= n || 1;
    ny /= n || 1;
    nz /= n || 1;
    out[0] = (ny * tz - nz * ty) / t;
    out[1] = (nz * tx - nx * tz) / t;
    out[2] = (nx * ty - ny * tx) / t;
    const m = Math.hypot(out[0], out[1], out[2]);
    if (!(m > 0)) return 0;
    for (let k = 0; k < 3; k++) out[k] /= m;
    return length;
  }

  /** The last point of the chain no further along than `at`, not beyond point p. */
  private pointBefore(at: number, p: number): number {
    let q = p;
    while (q > 0 && this.arc[q] > at) q--;
    return q;
  }

  private pointAfter(at: number, p: number): number {
    let q = p;
    while (q < this.arc.length - 1 && this.arc[q] < at) q++;
    return q;
  }
}
