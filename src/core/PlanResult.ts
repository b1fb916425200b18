import type { Vec3 } from './mesh/TriMesh.ts';
import type { CoatKind } from './plan/PlanDocument.ts';

/**
 * The answer, plain JSON; keys carry units. Shape and meaning of every number: README, "What the numbers mean".
 * Sentences are in metric units; one that holds a quantity has a twin in US units beside it, `text` in `usText` and so on
 * (sayBoth.ts); a twin that is left out reads the same.
 */
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
  /** In the order of the work: piece by piece, coat by coat. */
  readonly batches: readonly BatchResult[];
  /** Coats by piece: what they take, what is on the wall by the log, what is left to do. */
  readonly coatWork: readonly CoatWork[];
  readonly shopping: readonly ShoppingItem[];
  readonly schedule: readonly TaskResult[];
  readonly day: DayResult;
  readonly cost: CostResult;
  /** Null while not worked out: other systems for this very shell. */
  readonly comparison: readonly SystemComparison[] | null;
  /** Null when the scan does not say which way the fluid presses (it never closes over the board), or not worked out yet: then `thin` is null too. */
  readonly casting: CastingResult | null;
  readonly handling: readonly HandlingResult[];
  /** Where to put the pin, worst first. */
  readonly probes: readonly ProbeResult[];
  /** What in the recipe, the batches, the stock or the day will not do as it stands; each names its basis. */
  readonly workNotes: readonly WorkNote[];
  readonly cautions: readonly { readonly step: string; readonly text: string; readonly usText?: string }[];
  /** `thin`: the predicted thickness, `coats` their volumes alone. */
  readonly timesMs: Readonly<
    Record<'read' | 'repair' | 'field' | 'coats' | 'thin' | 'pieces' | 'undercut' | 'total', number>
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
  /** Once what is not bound has dried out. */
  readonly dryMassG: number;
}

export interface PieceResult extends Amount {
  readonly id: string;
  readonly name: string;
  readonly pull: Vec3;
  readonly areaMm2: number;
  readonly centreOfMassMm: Vec3;
  /** Once what is not bound has dried out: what is lifted later. */
  readonly dryMassG: number;
  readonly dryCentreOfMassMm: Vec3;
  /** Box around the piece's shell, roughly (its surface and the thickness), mm, board frame. */
  readonly boxMm: { readonly min: Vec3; readonly max: Vec3 };
  readonly coats: readonly CoatResult[];
  readonly flange: {
    /** Of the lines around the piece, off what is kept clear. */
    readonly lengthMm: number;
    /** Of the same lines, in what is kept clear: there neither shim nor flange nor fastener is laid. */
    readonly clearMm: number;
    readonly volumeMm3: number;
    readonly volumeErrorMm3: number;
    readonly massG: number;
  };
  /** Null while it is not worked out yet: the numbers come before the undercuts. */
  readonly undercut: UndercutResult | null;
  /** Null while it is not worked out yet: a finish to be levelled takes longer than the amounts. */
  readonly thin: ThinResult | null;
}

/** Where the shell is predicted too thin: spread evenly by weight, then the finish levelled. A model, not calibrated. */
export interface ThinResult {
  /** Least predicted thickness on the piece, mm. */
  readonly minMm: number;
  /** Area of rubber where the prediction is below the plan's least, mm2. */
  readonly areaBelowMm2: number;
  /** Radius of the trowel that the prediction was levelled with, mm; null: as brushed. */
  readonly levelledByMm: number | null;
  /** What that trowel fills in hollows, roughly; in no other amount of the answer. Null: nothing is levelled. */
  readonly levelling: null | { readonly volumeMm3: number; readonly massG: number };
  /** The one that lacks most first. At most MOST_THIN_SPOTS; `spotCount` counts them all, `rest` sums those that are not listed. */
  readonly spots: readonly ThinSpotResult[];
  readonly spotCount: number;
  readonly rest: { readonly areaMm2: number; readonly lackMm3: number; readonly massG: number };
  /** An extra coat on the spots alone that brings them to the least; in no other amount of the answer. Null: nothing is thin. */
  readonly ridgeCoat: RidgeCoat | null;
}

export interface ThinSpotResult {
  /** Piece and rank, "A1" the worst of piece A. */
  readonly id: string;
  readonly areaMm2: number;
  readonly minMm: number;
  /** Where it is thinnest, on the scan. */
  readonly pointMm: Vec3;
  /** How high over the board that is (in `pointMm` too), and which way the rubber faces there. */
  readonly aboveBoardMm: number;
  readonly side: 'front' | 'right' | 'back' | 'left' | 'top' | 'underside';
  /** What brings all of it to the least, mm3, and where it lacks most, mm to be laid there. */
  readonly lackMm3: number;
  readonly mostLackMm: number;
  /** Of the ridge coat for this spot, margin included. */
  readonly massG: number;
}

export interface RidgeCoat {
  /** Name of the coat whose mix it is. */
  readonly coat: string;
  /** What the spots lack, and `marginShare` of it more for what the brush lays beside them. */
  readonly volumeMm3: number;
  readonly massG: number;
  readonly marginShare: number;
  readonly text: string;
  readonly usText: string;
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
  readonly fillerG: number;
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
  readonly usText?: string;
  readonly count?: number;
}

export interface WorkNote {
  /** Closed set, kebab-case: 'dose-over', 'dose-under', 'dose-unknown', 'reinforcement-over', 'short-of-stock', 'no-time-to-lay',
   * 'ratio-off', 'window-missed', 'day-too-short', 'price-missing', ... */
  readonly code: string;
  /** Piece and coat that it speaks of, where it does. */
  readonly piece: string | null;
  readonly coat: number | null;
  readonly text: string;
  readonly usText?: string;
}

/** One coat of one piece, its share of the flange with it. */
export interface CoatWork {
  readonly piece: string;
  readonly pieceName: string;
  /** Number of the coat, from 0, and its name. */
  readonly coat: number;
  readonly name: string;
  readonly kind: CoatKind;
  readonly systemId: string;
  /** To be on the wall, as planned: coat and flange. */
  readonly volumeMm3: number;
  readonly flangeMm3: number;
  /** Area laid up, mm2: of the coat's middle surface and of the flange's faces. */
  readonly areaMm2: number;
  readonly densityGPerCm3: number;
  readonly massG: number;
  readonly dryMassG: number;
  readonly times: CoatTimes;
  /** From the log: what went on, g and mm of mean thickness; 0 when nothing did. */
  readonly laidG: number;
  readonly laidMm: number;
  /** What is still to be laid, g, after more or less than planned below it and in it; 0 when it is closed. */
  readonly toLayG: number;
  /** Thickness that this coat comes to, mm: as planned, or as re-planned by the log. */
  readonly thicknessMm: number;
  readonly isDone: boolean;
}

export interface CoatTimes {
  readonly workingMin: number;
  /** Wait before the next coat. */
  readonly partialCureMin: number;
  readonly fullCureMin: number;
  readonly latestOvercoatMin: number | null;
}

export interface BatchResult {
  readonly piece: string;
  /** Name of the coat; `coatNumber` from 0. */
  readonly coat: string;
  readonly coatNumber: number;
  readonly number: number;
  readonly of: number;
  /** By name of component, additive and reinforcement, rounded to the scale's step. */
  readonly componentsG: Readonly<Record<string, number>>;
  /** Sum of them. */
  readonly mixedG: number;
  /** What of it goes on the wall, g. */
  readonly laidG: number;
  readonly volumeMl: number;
  readonly areaMm2: number;
  /** In the order in which they go in. */
  readonly steps: readonly BatchStep[];
  readonly workingTimeMin: number;
  readonly mixMin: number;
  readonly layMin: number;
  /** Largest deviation of a component from its part after rounding, share. */
  readonly ratioOff: number;
  /** Ticked in the log: what was really mixed, g; null: not yet. */
  readonly loggedG: number | null;
}

export interface BatchStep {
  readonly item: string;
  readonly massG: number;
  readonly scale: string;
  /** For a solution: what it is made from; for fibre: how long at most to stir. A few words or ''. */
  readonly say: string;
  readonly usSay?: string;
}

export interface ShoppingItem {
  readonly item: string;
  readonly kind:
    | 'component'
    | 'additive'
    | 'reinforcement'
    | 'rubber'
    | 'filler'
    | 'release'
    | 'shims'
    | 'fasteners';
  /** Needed in all, losses included; null for what is counted. */
  readonly neededG: number | null;
  /** Needed where it is counted: strips, fasteners. */
  readonly neededCount: number | null;
  readonly inStockG: number;
  /** Pack chosen, g, or pieces in one when counted; null when no pack is given: buy by need. */
  readonly packG: number | null;
  readonly packs: number | null;
  /** Packs of other sizes beside those, where that is cheaper or leaves less over; counted in `leftG` and `cost`, named in `say`. */
  readonly morePacks?: readonly { readonly packG: number; readonly packs: number }[];
  readonly leftG: number | null;
  /** Null: no price is given. */
  readonly cost: number | null;
  /** A few words: length of shim, area of mat, solution. */
  readonly say: string;
  readonly usSay?: string;
}

export interface CostResult {
  /** Of all that has a price; null when nothing has. */
  readonly total: number | null;
  readonly currency: string;
  readonly byItem: Readonly<Record<string, number>>;
  /** Share by use: what the piece and the coat take, not whole packs. */
  readonly byPiece: Readonly<Record<string, number>>;
  readonly byCoat: Readonly<Record<string, number>>;
  /** Items without a price: the total is without them. */
  readonly unpriced: readonly string[];
}

export interface SystemComparison {
  readonly systemId: string;
  readonly name: string;
  readonly thicknessMm: number;
  readonly volumeMm3: number;
  readonly massG: number;
  readonly dryMassG: number;
  /** Heaviest piece as it is lifted, dry. */
  readonly heaviestG: number;
  readonly cost: number | null;
  readonly unpriced: readonly string[];
  /** From the first step to the last, minutes on the clock; attended minutes among them. */
  readonly elapsedMin: number;
  readonly attendedMin: number;
  readonly batches: number;
  readonly isChosen: boolean;
  /** What will not do in this system as it stands ('no-time-to-lay', 'ratio-off', ...): the row's numbers are without it. */
  readonly notes: readonly WorkNote[];
}

export interface TaskResult {
  readonly id: string;
  readonly what: string;
  readonly kind: TaskKind;
  /** Id of the piece, name and number (from 0) of the coat, number of the batch (from 1), or null. */
  readonly piece: string | null;
  readonly coat: string | null;
  readonly coatNumber: number | null;
  readonly batch: number | null;
  /** Minutes after midnight of the first day. */
  readonly startMin: number;
  readonly endMin: number;
  readonly attended: boolean;
  /** Whose hands, from 1; null when nobody's. A batch is laid by all hands together and stands at 1. */
  readonly who: number | null;
  readonly after: readonly string[];
  /**
   * What dries or cures before it is over then; the coat below must be met by then (later: `window-missed`). Null: free.
   * Minutes after midnight of the first day.
   */
  readonly soonestMin: number | null;
  readonly latestMin: number | null;
}

export type TaskKind =
  | 'wall'
  | 'release'
  | 'dry'
  | 'set-out'
  | 'batch'
  | 'cure'
  | 'shims'
  | 'clean'
  | 'trim'
  | 'open'
  | 'assemble';

export interface DayResult {
  readonly startDate: string | null;
  /** Minutes after midnight of the first day. */
  readonly endMin: number;
  /** Minutes on the clock in which somebody is at work, and those in which nobody is while something dries or cures, nights too. */
  readonly attendedMin: number;
  readonly unattendedMin: number;
  /** Days on which somebody is at work. */
  readonly days: number;
  readonly hands: number;
}

export interface CastingResult {
  readonly densityGPerCm3: number;
  readonly attitude: 'as-built' | 'foot-up';
  /** Height of the fill over the lowest point of the rubber, mm. */
  readonly headMm: number;
  readonly maxPressurePa: number;
  /** Largest force with which the fill opens a piece along its pull, N. */
  readonly closingForceN: number;
  readonly pieces: readonly {
    readonly piece: string;
    /** Force of the fluid on the piece, N, board frame. */
    readonly forceN: Vec3;
    /** Along its pull; negative: pressed on. */
    readonly openingN: number;
    /** Where the force acts, mm, board frame. */
    readonly centreOfPressureMm: Vec3;
  }[];
  readonly fasteners: number;
  /** The closest pair. */
  readonly fastenerSpacingMm: number;
  readonly fastenerPoints: readonly {
    readonly between: readonly [string, string];
    readonly pointMm: Vec3;
    readonly loadN: number;
  }[];
  /** Upward force of the fluid on the shell, less the weight that holds it, N; above 0 it wants to lift off. */
  readonly upliftN: number;
  readonly holdingWeightN: number;
  /** Pressure at the lowest seam, and where it is: it leaks there first. */
  readonly seam: { readonly pressurePa: number; readonly pointMm: Vec3 } | null;
  readonly screening: readonly ScreeningResult[];
  /** Mass of the cast and of the filled mould, g; null when the scan does not close. */
  readonly castG: number | null;
  readonly filledMouldG: number | null;
  /** What the figures rest on and leave out, in sentences for people. */
  readonly says: readonly string[];
  readonly usSays: readonly string[];
}

/** One formula applied to one piece: for comparing options, not for approval. */
export interface ScreeningResult {
  readonly piece: string;
  readonly formula: 'flat-supported' | 'flat-clamped' | 'membrane' | 'flange';
  /** What was put in, in words. */
  readonly from: string;
  readonly usFrom: string;
  readonly stressMPa: number;
  readonly deflectionMm: number | null;
  /** Strength over stress; null when the system has none to compare with. */
  readonly reserve: number | null;
}

export interface HandlingResult {
  /** "Piece A, dry" */
  readonly what: string;
  readonly piece: string | null;
  readonly state: 'wet' | 'dry' | 'with-rubber' | 'with-cast';
  readonly massKg: number;
  readonly centreOfMassMm: Vec3 | null;
  /** Recommended weight limit for one person, kg; 0 where the equation ends: hands too far out or too high. */
  readonly limitKg: number;
  /** Mass over that limit; null where the limit is 0. */
  readonly liftingIndex: number | null;
  readonly carry: 'one' | 'two' | 'hoist';
  readonly advice: string;
  readonly usAdvice: string;
}

export interface ProbeResult {
  /** From 1, as on the picture. */
  readonly number: number;
  readonly piece: string;
  readonly pointMm: Vec3;
  /** Predicted with all coats on, mm. */
  readonly predictedMm: number;
  readonly measured: readonly { readonly coatsOn: number; readonly thicknessMm: number }[];
}
