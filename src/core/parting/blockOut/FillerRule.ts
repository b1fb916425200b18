import type { TriMesh } from '../../mesh/TriMesh.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import { newClosestPoint, SurfaceTree } from '../../spatial/SurfaceTree.ts';
import type { CutSurface } from '../types.ts';
import type { PullFrame } from '../undercut/PullFrame.ts';
import { type FillableUndercut, isFillable } from './BlockOut.ts';
import { BELOW, FILLER, OPEN, OTHER, ROOT, RUBBER } from './FillerGrid.ts';

/**
 * How deep the filler's solid reaches into the rubber, in cells: more than the half diagonal of a cell (0.87), so that
 * every cell that the hidden surface passes has a neighbour in the rubber that belongs to it.
 */
const ROOT_CELLS = 1.5;

/**
 * Where two pieces are both filled at their common wall, the later filler reaches over it by this share of a cell: without
 * that, two faces drawn from two grids would leave slits between them.
 */
const OVERLAP_CELLS = 0.3;

/** Cells this far below the board, in cells, still belong to the solid, which is cut off at the board in the end. */
const BELOW_CELLS = 2;

/** Points below this height, in cells, are judged as if they lay at it: exactly on the board a ray runs along faces. */
const LEAST_HEIGHT_CELLS = 1e-3;

/** The surfaces that all pieces' fillers are judged by; trees are built when first asked for. */
export class FillerSurfaces {
  readonly rubber: SurfaceTree;
  private readonly trees: (RegionTree | undefined)[];

  constructor(
    readonly mesh: TriMesh,
    readonly cut: CutSurface,
    readonly standsOnBoard: boolean,
    /** By region: its frame when it has filler coming, else null. */
    readonly frames: readonly (PullFrame | null)[],
  ) {
    this.rubber = new SurfaceTree(mesh);
    this.trees = new Array(cut.regionCount).fill(undefined);
  }

  /** The part of S that belongs to a region. */
  region(region: number): RegionTree {
    const known = this.trees[region];
    if (known) return known;
    const { cutTriRegion, indices, positions } = this.cut;
    const tris: number[] = [];
    for (let t = 0; t < cutTriRegion.length; t++) if (cutTriRegion[t] === region) tris.push(t);
    const part = new Uint32Array(3 * tris.length);
    tris.forEach((t, n) => {
      for (let k = 0; k < 3; k++) part[3 * n + k] = indices[3 * t + k];
    });
    const made = { tree: new SurfaceTree({ positions, indices: part }), tris: Uint32Array.from(tris) };
    this.trees[region] = made;
    return made;
  }
}

interface RegionTree {
  readonly tree: SurfaceTree;
  /** Triangle of the tree -> cut triangle. */
  readonly tris: Uint32Array;
}

/**
 * What a point is to the filler of one piece: filler is what lies outside the rubber, above the board, nearer to the
 * piece's surface than to any other's, and has rubber in its way along the pull.
 */
export class FillerRule {
  /** Set by `measure`: distances to the piece's own surface and to the nearest of the others', mm. */
  ownMm = 0;
  otherMm = Infinity;
  /** Set by `measure`: the nearest cut triangle of the piece, and the region that the nearest other surface belongs to. */
  ownTri = -1;
  otherRegion = -1;
  /** How deep the solid reaches into the rubber, how far over a wall, mm. */
  readonly rootMm: number;
  readonly overlapMm: number;
  private readonly leastZ: number;
  private readonly lowestZ: number;
  private readonly near = newClosestPoint();
  private readonly own: RegionTree;
  private readonly others: { region: number; tree: SurfaceTree }[] = [];
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly surfaces: FillerSurfaces,
    private readonly undercut: FillableUndercut,
    readonly region: number,
    readonly frame: PullFrame,
    cellMm: number,
  ) {
    this.rootMm = ROOT_CELLS * cellMm;
    this.overlapMm = OVERLAP_CELLS * cellMm;
    this.leastZ = surfaces.standsOnBoard ? LEAST_HEIGHT_CELLS * cellMm : -Infinity;
    this.lowestZ = surfaces.standsOnBoard ? -BELOW_CELLS * cellMm : -Infinity;
    this.own = surfaces.region(region);
    for (let r = 0; r < surfaces.cut.regionCount; r++) {
      if (r !== region) this.others.push({ region: r, tree: surfaces.region(r).tree });
    }
  }

  /** True when every point at this height or above it is judged where it is. */
  isAboveBoard(z: number): boolean {
    return z >= this.leastZ;
  }

  /** Measures the distances from a point to the pieces' surfaces; see the fields. The others are left out where the point is known to be the piece's. */
  measure(x: number, y: number, z: number, isOwnKnown = false): void {
    const { near } = this;
    this.own.tree.closestPoint(x, y, z, near);
    this.ownMm = near.distance;
    this.ownTri = this.own.tris[near.tri];
    this.otherMm = Infinity;
    this.otherRegion = -1;
    if (isOwnKnown) return;
    for (const { region, tree } of this.others) {
      tree.closestPoint(x, y, z, near);
      if (near.distance >= this.otherMm) continue;
      this.otherMm = near.distance;
      this.otherRegion = region;
    }
  }

  /**
   * What the ray from a point along the pull says: OPEN when it runs clear, RUBBER when the point lies in the rubber,
   * FILLER when it lies outside and rubber is in the way, whatever piece it belongs to.
   */
  lookAlong(
    x: number,
    y: number,
    z: number,
    frame = this.frame,
  ): typeof OPEN | typeof RUBBER | typeof FILLER {
    const { d } = frame;
    const hit = this.surfaces.rubber.firstHit([x, y, z], [d[0], d[1], d[2]]);
    if (hit === null) return OPEN;
    const { normal } = this;
    writeTriNormal(this.surfaces.mesh, hit.tri, normal);
    return normal[0] * d[0] + normal[1] * d[1] + normal[2] * d[2] > 0 ? RUBBER : FILLER;
  }

  /** True when rubber stands in the way of a point, or round it; a point below the board is judged on it. */
  isInShadow(x: number, y: number, height: number): boolean {
    return this.lookAlong(x, y, Math.max(height, this.leastZ)) !== OPEN;
  }

  /**
   * The state of a point, OPEN ... ROOT. `ownTri` is the nearest triangle of the piece when that had to be measured.
   * `isOwnKnown`: the point is known to be nearest to the piece.
   */
  stateAt(x: number, y: number, height: number, isOwnKnown = false): number {
    this.ownTri = -1;
    if (height < this.lowestZ) return BELOW;
    // Below the board the solid goes straight on; it is cut off there in the end.
    const z = Math.max(height, this.leastZ);
    const seen = this.lookAlong(x, y, z);
    if (seen === OPEN) return OPEN;
    this.measure(x, y, z, isOwnKnown);
    if (seen === RUBBER) {
      if (this.ownMm > this.rootMm || this.ownMm > this.otherMm) return RUBBER;
      return isFillable(this.undercut.triKind[this.ownTri]) ? ROOT : RUBBER;
    }
    return this.isOwn(x, y, z) ? FILLER : OTHER;
  }

  /** Whether the point last measured lies on the piece's side of its wall, or little enough over it where both are filled. */
  private isOwn(x: number, y: number, z: number): boolean {
    const { ownMm, otherMm, overlapMm } = this;
    if (ownMm <= otherMm) return true;
    // Only over walls to pieces whose filler is joined before: what reaches over is there already and counts once.
    if (this.otherRegion > this.region) return false;
    // Beside a wall that stands on flat rubber this root is the distance from the wall.
    if (ownMm * ownMm - otherMm * otherMm > overlapMm * overlapMm) return false;
    const frame = this.surfaces.frames[this.otherRegion];
    return frame !== null && this.lookAlong(x, y, z, frame) === FILLER;
  }
}
