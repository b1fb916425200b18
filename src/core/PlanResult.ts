import type { Vec3 } from './mesh/TriMesh.ts';

/** The answer, plain JSON; keys carry units. Shape and meaning of every number: README, "What the numbers mean". */
export interface PlanResult {
  readonly schema: 'scute-result/1';
  readonly scan: ScanReport;
  /** Edge of the field's cells that gave the numbers, mm. */
  readonly resolutionMm: number;
  /** True when the numbers come from the coarse field alone and finer ones are under way. */
  readonly preliminary: boolean;
  readonly rubber: {
    readonly areaMm2: number;
    readonly heightMm: number;
    /** Enclosed by the rubber's outer surface and the board; null when the scan does not close. */
    readonly volumeMm3: number | null;
    /** Only for a bare pattern: the rubber itself. */
    readonly layer: null | {
      readonly thicknessMm: number;
      readonly volumeMm3: number;
      readonly volumeErrorMm3: number;
      readonly massG: number;
    };
  };
  readonly shell: Amount & { readonly thicknessMm: number };
  readonly pieces: readonly PieceResult[];
  /** The filler that the user accepted and the shell was planned over; null when there is none. */
  readonly filler: FillerResult | null;
  /** In which order the pieces come off; null while the undercuts are not worked out yet. */
  readonly removal: RemovalResult | null;
  readonly partingLines: readonly PartingLineResult[];
  /** Not computed yet by this version: null, never an empty success. */
  readonly batches: null;
  readonly shopping: null;
  readonly schedule: null;
  readonly cost: null;
  readonly casting: null;
  readonly handling: null;
  readonly cautions: readonly { readonly step: string; readonly text: string }[];
  readonly timesMs: Readonly<
    Record<'read' | 'repair' | 'field' | 'coats' | 'pieces' | 'undercut' | 'total', number>
  >;
}

export interface Amount {
  readonly volumeMm3: number;
  /** Bound on |computed - true| for the mesh as read, mm3. */
  readonly volumeErrorMm3: number;
  readonly massG: number;
  readonly massErrorG: number;
}

export interface CoatResult {
  readonly name: string;
  readonly kind: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly volumeMm3: number;
  readonly volumeErrorMm3: number;
  readonly massG: number;
  readonly massErrorG: number;
}

export interface PieceResult extends Amount {
  readonly id: string;
  readonly name: string;
  readonly pull: Vec3;
  readonly areaMm2: number;
  readonly centreOfMassMm: Vec3;
  readonly coats: readonly CoatResult[];
  readonly flange: {
    readonly lengthMm: number;
    readonly volumeMm3: number;
    readonly volumeErrorMm3: number;
    readonly massG: number;
  };
  /** Null while it is not worked out yet: the numbers come before the undercuts. */
  readonly undercut: UndercutResult | null;
  readonly thin: { readonly minMm: number; readonly areaBelowMm2: number };
}

/** What locks the piece for its pull, over all its surface; then what is left when the rubber yields. */
export interface UndercutResult {
  readonly areaMm2: number;
  /** Bound on the area: that of faces of which only a part is undercut. */
  readonly areaErrorMm2: number;
  readonly facingAwayMm2: number;
  readonly overshadowedMm2: { readonly byRubber: number; readonly byPiece: number; readonly byBoard: number };
  /** Greatest distance, square to the pull, by which rubber stands in the way. */
  readonly maxDepthMm: number;
  readonly maxDepthErrorMm: number;
  readonly fillerMm3: number;
  readonly fillerErrorMm3: number;
  readonly fillerG: number;
  /** The same without the spots that lock no deeper than the rubber yields. */
  readonly beyondGive: { readonly areaMm2: number; readonly fillerMm3: number; readonly fillerG: number };
  /** Least angle between the surface and the pull, degrees; negative when some of it faces away. */
  readonly leastDraftDeg: number;
  /** Worst first: by depth, then by volume. At most MOST_SPOTS; `spotCount` counts them all. */
  readonly spots: readonly SpotResult[];
  readonly spotCount: number;
  /** The faces of the parting wall on this piece's side. */
  readonly wall: {
    /** Length of line along which the wall itself stands in the way of this piece while its neighbour is still on, mm. */
    readonly blockedMm: number;
    readonly leastDraftDeg: number;
  };
  /** Null while not worked out yet: they take longer than the figures above. */
  readonly pulls: PullsResult | null;
  readonly prying: PryingResult | null;
}

export interface SpotResult {
  /** Piece and rank, "A1" the worst of piece A. */
  readonly id: string;
  readonly kind: 'facing-away' | 'overshadowed';
  readonly by: 'rubber' | 'piece' | 'board';
  readonly areaMm2: number;
  readonly maxDepthMm: number;
  readonly fillerMm3: number;
  /** Where it locks deepest, on the rubber. */
  readonly atMm: Vec3;
  readonly isWithinGive: boolean;
}

export interface PullsResult {
  /** The best pull for this piece by itself: largest least draft where one clears it, else least depth, then least filler. */
  readonly best: PullFigures;
  /** The present pull, measured in the same way. */
  readonly present: PullFigures;
  /** Every direction of the grid that clears the piece (locks no deeper than the rubber yields). */
  readonly clearing: readonly Vec3[];
  /** Angle between neighbours of that grid, degrees. */
  readonly stepDeg: number;
}

/** Of a direction, by raster on a simplified surface: good for comparing, the piece's own figures are by rays. */
export interface PullFigures {
  readonly pull: Vec3;
  readonly leastDraftDeg: number;
  readonly areaMm2: number;
  readonly maxDepthMm: number;
  readonly fillerMm3: number;
}

/** Whether a small turn frees the piece. */
export interface PryingResult {
  /** 'pull': a straight pull frees it. 'turn': no straight pull, but a small turn does. 'slide': only sliding along itself. 'locked': nothing small does. */
  readonly frees: 'pull' | 'turn' | 'slide' | 'locked';
  /** The edge or axis about which it turns best: a point on it and its direction; null where nothing is gained by turning. */
  readonly axis: { readonly pointMm: Vec3; readonly direction: Vec3; readonly name: string } | null;
  /** How deep rubber is met at worst during that turn, mm, and over which angle it was tried. */
  readonly worstMm: number;
  readonly turnDeg: number;
}

export interface FillerResult extends Amount {
  readonly byPiece: readonly { readonly piece: string; readonly volumeMm3: number; readonly massG: number }[];
  /** What was filled, as it was before: depth, volume and place on the bare rubber. */
  readonly spots: readonly SpotResult[];
}

export interface RemovalResult {
  /** Ids of the pieces, the first off first; pieces that lock each other stand last. */
  readonly order: readonly string[];
  /** Pairs in which `by` has to be off before `piece` can move. */
  readonly waits: readonly { readonly piece: string; readonly by: string }[];
  /** Pieces that hold each other whatever the order; empty when there is an order. */
  readonly locked: readonly string[];
}

export interface PartingLineResult {
  readonly between: readonly [string, string];
  readonly lengthMm: number;
  readonly points: readonly Vec3[];
}

/** What the scan is and what was done to it; counts are of the file as read, before repair, except `repairs`. */
export interface ScanReport {
  readonly triangles: number;
  readonly vertices: number;
  readonly components: number;
  readonly openEdges: number;
  readonly openLoops: number;
  readonly nonManifoldEdges: number;
  readonly sizeMm: Vec3;
  readonly unit: string;
  readonly warnings: readonly ScanNote[];
  readonly repairs: readonly ScanNote[];
}

export interface ScanNote {
  /** Closed set, kebab-case: 'unit-guessed', 'welded', 'duplicate-faces-dropped', ... */
  readonly code: string;
  readonly text: string;
  readonly count?: number;
}
