import type { Vec3 } from '../../mesh/TriMesh.ts';
import { castProjected } from './castHeights.ts';
import type { HeightMap } from './HeightMap.ts';
import type { PieceCells, PieceStand } from './PieceCells.ts';
import { newColumnHit, type PullColumns } from './PullColumns.ts';
import type { PullFrame } from './PullFrame.ts';
import type { ProjectedVerts } from './projectVerts.ts';
import { projectVerts } from './projectVerts.ts';
import type { UndercutBody } from './UndercutBody.ts';

/** A shell is met when the ray is inside it, past its border to the own one, by more than this share of its thickness. */
const TOUCH_SHARE = 0.05;

/** Steps along a ray: inside the own shell no longer than this share of its thickness. */
const STEP_SHARE = 0.2;

/** Faces whose ways start in one cube of this share of its thickness are answered by the first of them. */
const SAME_SHARE = 0.1;

/** No more such cubes than this across the body, so that their numbers stay exact. */
const MOST_CUBES = 2 ** 15;

/**
 * A ray that is still between shells after so many steps is taken to pass: only for it to end. Along a border steps are a fortieth
 * of the shell's thickness: with 96 up to a third of what another piece holds was lost on five scans, with 1000 less than 4 %.
 */
const MOST_STEPS = 1000;

/** Least pixels across the body of the map that lets most rays off. */
const LEAST_PIXELS = 16;

/**
 * The shells of the other pieces as things in the way of one: the places within the shell's thickness of the rubber that are theirs.
 * A ray starts halfway through the own shell and walks by the distance to the rubber, which no shell is nearer than.
 */
export class PieceObstacles {
  private readonly reachMm: number;
  private readonly others: HeightMap | null;
  private readonly dilated: Float32Array;
  private readonly stand: PieceStand = { rival: -1, leadMm: 0, distanceMm: 0 };
  private readonly hit = newColumnHit();
  /** What was met from the starts so far, by cube. */
  private readonly met = new Map<number, number>();
  private readonly cubeMm: number;

  constructor(
    private readonly body: UndercutBody,
    private readonly region: number,
    private readonly frame: PullFrame,
    private readonly columns: PullColumns,
    private readonly cells: PieceCells,
    private readonly shellMm: number,
  ) {
    this.reachMm = shellMm;
    this.cubeMm = Math.max(SAME_SHARE * shellMm, (body.diagonalMm + 2 * shellMm) / MOST_CUBES);
    this.others = this.heightsOfOthers(projectVerts(body.cut.positions, frame));
    this.dilated = this.others ? dilate(this.others) : new Float32Array(0);
  }

  /** The region of the first other shell that the middle of a face's shell meets on its way; -1 when it passes, or meets rubber first. */
  firstMet(tri: number): number {
    const { cut, normals } = this.body;
    if (this.others === null) return -1;
    const p = cut.positions;
    const centre = [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      for (let c = 0; c < 3; c++) centre[c] += p[3 * cut.indices[3 * tri + k] + c] / 3;
    }
    const half = this.shellMm / 2;
    const start: Vec3 = [
      centre[0] + half * normals[3 * tri],
      centre[1] + half * normals[3 * tri + 1],
      centre[2] + half * normals[3 * tri + 2],
    ];
    const cube = this.cubeOf(start);
    let met = this.met.get(cube);
    if (met === undefined) {
      met = this.metFrom(start);
      this.met.set(cube, met);
    }
    return met;
  }

  private cubeOf(start: Vec3): number {
    const { centre, diagonalMm } = this.body;
    const least = -diagonalMm / 2 - this.shellMm;
    let cube = 0;
    for (let c = 0; c < 3; c++)
      cube = (MOST_CUBES + 2) * cube + Math.floor((start[c] - centre[c] - least) / this.cubeMm);
    return cube;
  }

  private metFrom(start: Vec3): number {
    const { u, v, d } = this.frame;
    const su = dot(start, u);
    const sv = dot(start, v);
    const sh = dot(start, d);
    if (this.highestOther(su, sv) + this.reachMm <= sh) return -1;
    this.columns.nextEntry(su, sv, sh, this.hit);
    const wayMm = Math.min(this.hit.heightMm, this.columns.highestMm + this.reachMm) - sh;
    return this.walk(start, d, wayMm);
  }

  private walk(start: Vec3, d: Vec3, wayMm: number): number {
    const { cells, stand, shellMm, region } = this;
    const most = STEP_SHARE * shellMm;
    const touch = TOUCH_SHARE * shellMm;
    for (let s = 0, n = 0; s < wayMm && n < MOST_STEPS; ) {
      const x = start[0] + s * d[0];
      const y = start[1] + s * d[1];
      const z = start[2] + s * d[2];
      const ownMm = cells.wayWithin(region, x, y, z, d[0], d[1], d[2]);
      if (ownMm > 0) {
        s += ownMm;
        continue;
      }
      n++;
      cells.stand(region, x, y, z, 2 * most, stand);
      if (stand.distanceMm > shellMm) {
        s += Math.max(stand.distanceMm - shellMm, most / 8);
        continue;
      }
      if (stand.leadMm < -touch) return stand.rival;
      // The lead changes by no more than twice the way.
      s += Math.max(most / 8, Math.min(most, (stand.leadMm + touch) / 2));
    }
    return -1;
  }

  private highestOther(u: number, v: number): number {
    const map = this.others as HeightMap;
    const i = Math.max(0, Math.min(map.width - 1, Math.floor((u - map.uMin) / map.pixelMm)));
    const j = Math.max(0, Math.min(map.height - 1, Math.floor((v - map.vMin) / map.pixelMm)));
    return this.dilated[j * map.width + i];
  }

  /** Heights of the other pieces' rubber, in pixels no smaller than the shell is thick; null when there are no others. */
  private heightsOfOthers(verts: ProjectedVerts): HeightMap | null {
    const { cut } = this.body;
    const { extent } = this.columns;
    const others = new Uint32Array(cut.indices.length);
    let count = 0;
    for (let t = 0; t < cut.cutTriRegion.length; t++) {
      const region = cut.cutTriRegion[t];
      if (region < 0 || region === this.region) continue;
      for (let k = 0; k < 3; k++) others[count++] = cut.indices[3 * t + k];
    }
    if (count === 0) return null;
    const span = Math.max(extent.uMax - extent.uMin, extent.vMax - extent.vMin);
    const pixelMm = Math.max(this.shellMm, span / 256);
    const margin = Math.max(2 * this.shellMm, span / LEAST_PIXELS);
    return castProjected(
      verts,
      others.subarray(0, count),
      {
        uMin: extent.uMin - margin,
        vMin: extent.vMin - margin,
        uMax: extent.uMax + margin,
        vMax: extent.vMax + margin,
      },
      pixelMm,
    );
  }
}

/** Greatest height over each pixel and two round it: more than the shell is thick. */
function dilate({ top, width, height }: HeightMap): Float32Array {
  const rows = new Float32Array(top.length);
  const out = new Float32Array(top.length);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let most = -Infinity;
      for (let k = Math.max(0, i - 2); k <= Math.min(width - 1, i + 2); k++)
        most = Math.max(most, top[j * width + k]);
      rows[j * width + i] = most;
    }
  }
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let most = -Infinity;
      for (let k = Math.max(0, j - 2); k <= Math.min(height - 1, j + 2); k++)
        most = Math.max(most, rows[k * width + i]);
      out[j * width + i] = most;
    }
  }
  return out;
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
