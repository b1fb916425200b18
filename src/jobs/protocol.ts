import type { ProgressListener } from '../core/checkpoint.ts';
import type { Spread } from '../core/maps/spreadOf.ts';
import type { Box, Vec3 } from '../core/mesh/TriMesh.ts';
import type { PlanResult, ScanNote } from '../core/PlanResult.ts';
import type { SnappedPoint, SnapTo } from '../core/parting/draw/SnappedPoint.ts';
import type { PullChart } from '../core/parting/pulls/PullChart.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { ShadedSurface } from '../core/picture/creaseNormals.ts';
import type { PrintedSide } from '../core/picture/SidePicture.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { PickTree } from '../core/spatial/pickTree.ts';

/** What the page shows of a plan, in Float32 for the graphics card. Board frame, mm, z up. */
export interface PlanGeometry {
  /** The whole prepared scan; null when it has not changed since the last answer of the same worker. */
  readonly rubber: RubberPicture | null;
  /** The rubber's surface of each piece, cut along the lines; by order of `result.pieces`. */
  readonly pieces: readonly PiecePicture[];
  readonly lines: readonly LinePicture[];
  readonly marks: readonly MarkPicture[];
  /** Filler that the user accepted, as a closed surface; null when there is none. */
  readonly filler: ShadedPicture | null;
  /** Row-major 3 x 4: the file's coordinates to the board's frame, mm. */
  readonly fileToBoard: readonly number[];
}

export interface SurfacePicture {
  readonly positions: Float32Array;
  readonly indices: Uint32Array;
}

/** A surface with what drawing it takes, made by the worker so that the page need not stop for it. */
export interface ShadedPicture extends SurfacePicture {
  /** Equal for pictures of the same surface of the same scan. */
  readonly key: string;
  readonly shaded: ShadedSurface;
}

export interface RubberPicture extends ShadedPicture {
  readonly tree: PickTree;
  /** Around all of it. */
  readonly box: Box;
}

export interface PiecePicture {
  readonly id: string;
  readonly pull: Vec3;
  readonly rubber: ShadedPicture;
  /** The shell of this piece with its flange, as a closed surface good for looking at; null until the field stands. */
  readonly shell: ShadedPicture | null;
  /** What locks, on the vertices of `rubber`; null until the undercuts stand. */
  readonly undercut: UndercutPicture | null;
  /** Where the piece touches as it slides, on the vertices of `shell`; null until the undercuts stand. */
  readonly touch: TouchPicture | null;
}

export interface UndercutPicture {
  /** By vertex of the piece's rubber: how deep it locks, mm; 0 where it is free. */
  readonly depthMm: Float32Array;
  /** By triangle: 0 free, 1 facing away, 2 overshadowed by rubber, 3 by another piece, 4 by the board. */
  readonly kind: Uint8Array;
}

/** A vertex is inside the rubber while the piece has slid by more than `fromMm` and less than `toMm`; both Infinity: never. */
export interface TouchPicture {
  readonly fromMm: Float32Array;
  readonly toMm: Float32Array;
}

export interface LinePicture {
  readonly id: string;
  readonly closed: boolean;
  /** n x 3 along the surface. */
  readonly path: Float32Array;
  /** k x 3, the points that the user moves. */
  readonly controlPoints: Float32Array;
}

/** Where something was found or mended; see ScanMark. */
export interface MarkPicture {
  readonly code: string;
  readonly points: Float32Array;
  readonly isLoop: boolean;
  readonly tris?: Float32Array;
  readonly edges?: Float32Array;
  /** How many faces the patch has; `tris` may hold fewer. */
  readonly faces?: number;
}

/** Coats as cut by a plane: closed outlines in the plane's own millimetre axes. */
export interface SectionPicture {
  readonly plane: SectionPlane;
  /** Origin of the picture's axes and its axes, board frame. */
  readonly origin: Vec3;
  readonly uAxis: Vec3;
  readonly vAxis: Vec3;
  /** From the rubber outward: one entry for the rubber (coat -1), then one a coat and piece. Even-odd rings of u v pairs. */
  readonly areas: readonly {
    readonly coat: number;
    readonly piece: number;
    readonly rings: readonly Float32Array[];
  }[];
}

/** Points x with normal . x = offsetMm. */
export interface SectionPlane {
  readonly normal: Vec3;
  readonly offsetMm: number;
}

export interface PlanAnswer {
  readonly revision: number;
  readonly result: PlanResult;
  readonly geometry: PlanGeometry;
  /** False for the quick first answer that a finer one follows. */
  readonly isFinal: boolean;
  /** True for the very first one, an estimate from the surface alone: wide bounds, and no shell to be seen. */
  readonly isRough?: boolean;
}

/**
 * What a map shows over the rubber: predicted thickness of the coats (up to `coat`, null: all of them), how deep it locks,
 * draft for the piece's pull, or how far the body planned stands off the scan as it came (positive: beyond it).
 */
export interface MapAsk {
  readonly of: 'thickness' | 'undercut' | 'draft' | 'distance';
  readonly coat: number | null;
}

/** A map, and the revision of the plan that it shows. Draft in degrees, the others in mm. */
export interface MapPicture extends MapAsk {
  readonly revision: number;
  /** Of all pieces; null when no value is finite. */
  readonly spread: Spread | null;
  /** By order of `result.pieces`, on the triangles of each piece's `rubber`. */
  readonly pieces: readonly {
    /** 3 x triangles; Infinity: a hollow that fills, NaN: nothing is told. */
    readonly corners: Float32Array;
    /** By triangle: the triangle of `PlanGeometry.rubber` that it is, or is a part of. */
    readonly tris: Uint32Array;
  }[];
}

/** The mould from its four sides, and the revision of the plan that they show. */
export interface DrawnSides {
  readonly revision: number;
  readonly pictures: readonly PrintedSide[];
}

/** What one file of a whole job holds. */
export interface BundleParts {
  /** The plan's JSON, unchecked. */
  readonly planText: string;
  readonly scanName: string;
  readonly scanBytes: ArrayBuffer;
  /** A PNG of the mould; null when there is none. */
  readonly picture: ArrayBuffer | null;
}

export interface OpenedScan {
  readonly name: string;
  readonly triangles: number;
  readonly vertices: number;
  /** Size in the file's own units. */
  readonly size: Vec3;
  readonly notes: readonly ScanNote[];
}

/**
 * An error as it crosses the worker's border. `code` of MeshError and PlanError; 'internal' for a defect of ours; 'worker-lost'
 * when the worker died; 'out-of-memory' when it lives but could not have what it asked for.
 */
export interface JobFailure {
  readonly kind: 'mesh' | 'plan' | 'internal' | 'worker-lost' | 'out-of-memory';
  readonly code: string;
  readonly message: string;
}

/** The page's only way to the geometry. Implemented by jobs/client.ts over a worker. Cancelled jobs reject with an AbortError. */
export interface Planner {
  /** Reads a file and keeps it as the current scan only if it can be read. `bytes` is copied, the caller keeps it. Rejects with PlannerError. */
  open(name: string, bytes: ArrayBuffer, options?: JobOptions): Promise<OpenedScan>;
  /** Plans the current scan. `onAnswer` is called for the quick answer and the final one. A newer call cancels this one. */
  plan(
    plan: PlanDocument,
    revision: number,
    options: JobOptions & { onAnswer: (answer: PlanAnswer) => void },
  ): Promise<void>;
  /** Joins points along the surface, for a line being drawn. */
  path(points: readonly Vec3[], closed: boolean, options?: JobOptions): Promise<LinePicture>;
  section(plane: SectionPlane, options?: JobOptions): Promise<SectionPicture>;
  /** How bad each pull direction is, for the whole mould or for one piece of the standing plan. */
  chart(of: PullChart['of'], options?: JobOptions): Promise<PullChart>;
  /** Proposals for the current scan, best first; `onSuggestions` is called with what there is so far. A newer call cancels this one. */
  suggest(
    plan: PlanDocument,
    pieceCounts: readonly number[],
    options: JobOptions & { onSuggestions: (suggestions: readonly Suggestion[]) => void },
  ): Promise<void>;
  /** The point that a point near the surface snaps to, within `reachMm`, for the pull of the piece it lies in. */
  snap(point: Vec3, to: readonly SnapTo[], reachMm: number, options?: JobOptions): Promise<SnappedPoint>;
  /** Control points of a smoother line through the same ends, along the surface. */
  smooth(points: readonly Vec3[], closed: boolean, options?: JobOptions): Promise<readonly Vec3[]>;
  /** One quantity over the rubber of the standing plan's pieces. */
  map(ask: MapAsk, options?: JobOptions): Promise<MapPicture>;
  /** Draws the standing plan from its four sides, each so many pixels wide, for the shop sheet. */
  sides(widthPx: number, options?: JobOptions): Promise<DrawnSides>;
  /** One file that holds plan and scan. */
  bundle(parts: BundleParts, options?: JobOptions): Promise<ArrayBuffer>;
  /** What such a file holds. `name` is for messages. Rejects with PlannerError when it is none. */
  unbundle(name: string, bytes: ArrayBuffer, options?: JobOptions): Promise<BundleParts>;
  /**
   * Calls `listener` with why, whenever the worker was lost or given up and all that it held with it: the next job starts
   * another, which reads the scan again, but no plan stands there. Every job under way has been rejected by then. Returns the
   * way to stop it. Left out by planners that lose nothing.
   */
  listenLost?(listener: (why: JobFailure) => void): () => void;
  dispose(): void;
}

export interface JobOptions {
  readonly progress?: ProgressListener;
  readonly signal?: AbortSignal;
}

/** A failure as the page sees it. */
export class PlannerError extends Error {
  override readonly name = 'PlannerError';
  constructor(readonly failure: JobFailure) {
    super(failure.message);
  }
}
