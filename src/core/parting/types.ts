import { NO_TILES, type SurfaceTiles } from './SurfaceTiles.ts';

/** A polyline on the surface. Board frame, mm. */
export interface SurfacePath {
  /** n x 3 points. Successive points lie in (or on the border of) one common triangle. Closed paths repeat the first point at the end. */
  readonly points: Float64Array;
  /** n-1: the triangle that holds segment i. */
  readonly segmentTris: Int32Array;
  readonly closed: boolean;
  readonly lengthMm: number;
}

/** The surface cut exactly along paths, in regions. */
export interface CutSurface {
  readonly regionCount: number;
  /** Per triangle of the scan: its region; CROSSED when a line runs through its inside; NO_REGION for the base cap. */
  readonly triRegion: Int32Array;
  /** The cut mesh of S (base cap left out): positions n x 3, indices, and for each of its triangles region and source triangle. */
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly cutTriRegion: Int32Array;
  readonly cutTriSource: Int32Array;
  readonly segments: CutSegments;
  readonly parts: CutParts;
}

/** The cut surface as what no line touches, to be taken by the tile, and the rest. */
export interface CutParts {
  readonly tiles: SurfaceTiles;
  /** Region of each tile; -1 for one that a line touches. */
  readonly tileRegion: Int32Array;
  /** Triangles of the cut mesh that are in no tile of one region. */
  readonly loose: Int32Array;
}

/** A cut surface of so many triangles of which no part is taken by the tile. */
export function allLoose(count: number): CutParts {
  return {
    tiles: NO_TILES,
    tileRegion: new Int32Array(0),
    loose: Int32Array.from({ length: count }, (_, n) => n),
  };
}

export const CROSSED = -1;
export const NO_REGION = -2;

/** Every segment that separates two regions. */
export interface CutSegments {
  readonly count: number;
  /** count x 6: from, to; mm. */
  readonly ends: Float64Array;
  /** Triangle of the scan that holds the segment. */
  readonly tri: Int32Array;
  /** Region to the left and right, walking from -> to, seen from outside. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** Index of the path it came from. */
  readonly path: Int32Array;
}
