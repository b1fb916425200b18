import { vectorLength } from '../mesh/vectorLength.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import { CROSSED, type CutSurface, NO_REGION } from '../parting/types.ts';
import type { BallGrid } from './BallGrid.ts';
import type { BandSource } from './BandSource.ts';
import type { CellFoot } from './CellFoot.ts';
import { CORNER, closestOnTriangle, EDGE, FACE } from './closestOnTriangle.ts';
import { cubeCut } from './cubeCut.ts';
import { type LineIndex, newLineHit } from './LineIndex.ts';
import { openShare } from './openShare.ts';

/** A fan over an edge narrower than this, in cell edges, is not told from the flats beside it. */
const FAN_CELLS = 0.5;

/** A line on a face turned farther than this from the cell's, by the cosine, lies round an edge: its plane tells nothing here. */
const ROUND_COSINE = 0.8;

/**
 * Divides a cell between the two regions of the nearest line and takes away what is keep-clear. Results stay in fields
 * until the next call. Scratch belongs to the instance.
 */
export class CellDivider {
  region = NO_REGION;
  share = 0;
  otherRegion = NO_REGION;
  otherShare = 0;
  /** From the cell's centre to the parting face, never negative; Infinity when no line is near. */
  distanceMm = Infinity;
  private fx = 0;
  private fy = 0;
  private fz = 0;
  private readonly hit = newLineHit();
  private readonly crossed: CrossedTriangles;

  constructor(
    private readonly source: BandSource,
    private readonly cut: CutSurface,
    private readonly lines: LineIndex,
    private readonly keepClear: BallGrid,
    private readonly cellMm: number,
  ) {
    this.crossed = new CrossedTriangles(cut);
  }

  /** Finds region, otherRegion and how far the centre lies from the parting face between them. */
  locate(cell: CellFoot): void {
    const { cut, hit } = this;
    const whole = cut.triRegion[cell.tri];
    const own = whole === CROSSED ? this.crossed.regionAt(cell.tri, cell.x, cell.y, cell.z) : whole;
    this.region = own;
    this.otherRegion = NO_REGION;
    this.distanceMm = Infinity;
    if (!this.lines.find(cell.foot[0], cell.foot[1], cell.foot[2], hit)) return;
    const left = cut.segments.left[hit.segment];
    const right = cut.segments.right[hit.segment];
    // A cell of a third region, where lines meet, stays whole.
    if (own !== left && own !== right) return;
    this.otherRegion = own === left ? right : left;
    this.measureFace(cell, own === left ? 1 : -1);
  }

  divide(cell: CellFoot): void {
    this.locate(cell);
    const own =
      this.distanceMm === Infinity ? 1 : cubeCut(-this.fx, -this.fy, -this.fz, this.distanceMm / this.cellMm);
    const open = this.openShare(cell);
    this.share = own * open;
    this.otherShare = (1 - own) * open;
  }

  /**
   * Distance of the cell's centre from the parting face, and the face's unit normal (fx fy fz) towards the cell's own
   * region; `side`: +1 when that is the left one.
   *
   * Over a flat of the rubber the face stands square on the line. Over a sharp edge that the line crosses, the nearest
   * points of the whole fan between the two flats lie on the edge, so that there the face is square to the edge, however
   * the line crosses it.
   */
  private measureFace(cell: CellFoot, side: number): void {
    const { hit } = this;
    const { ends, tri } = this.cut.segments;
    const e = 6 * hit.segment;
    const tx = ends[e + 3] - ends[e];
    const ty = ends[e + 4] - ends[e + 1];
    const tz = ends[e + 5] - ends[e + 2];
    const normal = this.normalAt(tri[hit.segment], this.normal);
    const lx = normal[1] * tz - normal[2] * ty;
    const ly = normal[2] * tx - normal[0] * tz;
    const lz = normal[0] * ty - normal[1] * tx;
    const length = vectorLength(lx, ly, lz);
    if (!(length > 0)) return;
    const scale = side / length;
    const mx = lx * scale;
    const my = ly * scale;
    const mz = lz * scale;
    // Measured at the foot: above a flat the height over it must not enter.
    const { foot } = cell;
    const vx = foot[0] - hit.point[0];
    const vy = foot[1] - hit.point[1];
    const vz = foot[2] - hit.point[2];
    const away = (vx * tx + vy * ty + vz * tz) / (tx * tx + ty * ty + tz * tz);
    const px = vx - away * tx;
    const py = vy - away * ty;
    const pz = vz - away * tz;
    const distance = vectorLength(px, py, pz);
    const spot = this.findSpot(cell);
    if (spot === 'corner') return;
    if (spot === 'edge') {
      const across = this.ex * mx + this.ey * my + this.ez * mz;
      if (across === 0) return;
      const sense = Math.sign(across);
      this.fx = sense * this.ex;
      this.fy = sense * this.ey;
      this.fz = sense * this.ez;
      this.distanceMm = distance / Math.abs(across);
      return;
    }
    // Round a sharp edge from the line the way over the rubber turns; its far end is taken straight.
    const flatness =
      (normal[0] * cell.gx + normal[1] * cell.gy + normal[2] * cell.gz) /
      vectorLength(normal[0], normal[1], normal[2]);
    const isRound = flatness < ROUND_COSINE && distance > 0;
    let fx = isRound ? px / distance : mx;
    let fy = isRound ? py / distance : my;
    let fz = isRound ? pz / distance : mz;
    const along = fx * cell.gx + fy * cell.gy + fz * cell.gz;
    fx -= along * cell.gx;
    fy -= along * cell.gy;
    fz -= along * cell.gz;
    const left = vectorLength(fx, fy, fz);
    if (!(left > 0)) return;
    this.fx = fx / left;
    this.fy = fy / left;
    this.fz = fz / left;
    // Facets make the ruling jump a little: the side of the foot wins, the distance then counts as none.
    const isBehind = !isRound && px * mx + py * my + pz * mz < 0;
    this.distanceMm = isBehind ? 0 : distance;
  }

  /**
   * What of the mesh the cell's nearest points lie on: 'edge' in the fan over an edge wide enough there to be told (its
   * direction goes into ex ey ez), 'corner' in the cone over such a corner, else 'flat'.
   */
  private findSpot(cell: CellFoot): 'flat' | 'edge' | 'corner' {
    const { positions: p, indices } = this.source.mesh;
    const part = closestOnTriangle(p, indices, cell.tri, cell.x, cell.y, cell.z, this.scratch);
    if (part === FACE) return 'flat';
    if (part < EDGE) {
      const coneRad = Math.sqrt(Math.max(0, this.cornerDefect(indices[3 * cell.tri + part - CORNER])));
      return Math.abs(cell.phi) * coneRad > FAN_CELLS * this.cellMm ? 'corner' : 'flat';
    }
    const k = part - EDGE;
    if (!this.isSharp(cell, k)) return 'flat';
    const a = indices[3 * cell.tri + k] * 3;
    const b = indices[3 * cell.tri + ((k + 1) % 3)] * 3;
    const x = p[b] - p[a];
    const y = p[b + 1] - p[a + 1];
    const z = p[b + 2] - p[a + 2];
    const length = vectorLength(x, y, z);
    if (!(length > 0)) return 'flat';
    this.ex = x / length;
    this.ey = y / length;
    this.ez = z / length;
    return 'edge';
  }

  /** Whether the fan over an edge of the cell's triangle is wide at the cell's distance. */
  private isSharp(cell: CellFoot, edge: number): boolean {
    const over = this.source.twins[3 * cell.tri + edge];
    const own = this.normalAt(cell.tri, this.ownNormal);
    let bendRad: number;
    if (over < 0) {
      // On the rim the fan ends at the board.
      if (!this.source.standsOnBoard) return false;
      bendRad = Math.asin(Math.max(0, Math.min(1, own[2] / vectorLength(own[0], own[1], own[2]))));
    } else {
      const next = this.normalAt(Math.floor(over / 3), this.nextNormal);
      const cosine =
        (own[0] * next[0] + own[1] * next[1] + own[2] * next[2]) /
        (vectorLength(own[0], own[1], own[2]) * vectorLength(next[0], next[1], next[2]));
      bendRad = Math.acos(Math.min(1, Math.max(-1, cosine)));
    }
    return Math.abs(cell.phi) * bendRad > FAN_CELLS * this.cellMm;
  }

  /** Angle defect of a vertex, which is the solid angle of the cone over it; on a rim that of the half above the board. */
  private cornerDefect(vert: number): number {
    const known = this.defects.get(vert);
    if (known !== undefined) return known;
    const { mesh, rings, twins } = this.source;
    const { positions: p, indices } = mesh;
    let sum = 0;
    let isRim = false;
    for (let n = rings.start[vert]; n < rings.start[vert + 1]; n++) {
      const t = rings.tris[n];
      const k = indices[3 * t] === vert ? 0 : indices[3 * t + 1] === vert ? 1 : 2;
      if (twins[3 * t + k] < 0 || twins[3 * t + ((k + 2) % 3)] < 0) isRim = true;
      const a = 3 * vert;
      const b = 3 * indices[3 * t + ((k + 1) % 3)];
      const c = 3 * indices[3 * t + ((k + 2) % 3)];
      const ux = p[b] - p[a];
      const uy = p[b + 1] - p[a + 1];
      const uz = p[b + 2] - p[a + 2];
      const vx = p[c] - p[a];
      const vy = p[c + 1] - p[a + 1];
      const vz = p[c + 2] - p[a + 2];
      const cross = vectorLength(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
      sum += Math.atan2(cross, ux * vx + uy * vy + uz * vz);
    }
    const defect = (isRim ? Math.PI : 2 * Math.PI) - sum;
    this.defects.set(vert, defect);
    return defect;
  }

  private readonly defects = new Map<number, number>();
  private ex = 0;
  private ey = 0;
  private ez = 0;
  private readonly scratch = new Float64Array(4);
  private readonly ownNormal = new Float64Array(3);
  private readonly nextNormal = new Float64Array(3);
  private readonly normal = new Float64Array(3);

  private normalAt(t: number, normal: Float64Array): Float64Array {
    writeTriNormal(this.source.mesh, t, normal);
    return normal;
  }

  /** Share (0..1) of the cell whose nearest surface is not keep-clear. */
  openShare({ foot, gx, gy, gz }: CellFoot): number {
    return openShare(this.keepClear, foot, gx, gy, gz, this.cellMm);
  }
}

/** The parts of the triangles that a line runs through, by source triangle. */
class CrossedTriangles {
  private readonly parts = new Map<number, number[]>();
  private readonly scratch = new Float64Array(4);

  constructor(private readonly cut: CutSurface) {
    const { cutTriSource, triRegion, parts } = cut;
    for (const t of parts.loose) {
      const source = cutTriSource[t];
      if (triRegion[source] !== CROSSED) continue;
      const list = this.parts.get(source);
      if (list) list.push(t);
      else this.parts.set(source, [t]);
    }
  }

  /** Region of the part nearest to x y z. */
  regionAt(tri: number, x: number, y: number, z: number): number {
    const { positions, indices, cutTriRegion } = this.cut;
    let best = Infinity;
    let region = 0;
    for (const part of this.parts.get(tri) ?? []) {
      closestOnTriangle(positions, indices, part, x, y, z, this.scratch);
      if (this.scratch[3] < best) {
        best = this.scratch[3];
        region = cutTriRegion[part];
      }
    }
    return region;
  }
}
