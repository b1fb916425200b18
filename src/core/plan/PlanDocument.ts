import type { MaterialSystem } from '../material/MaterialSystem.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { LeavableRepair } from './leavableRepairs.ts';

/** Everything the user decides, as small plain JSON. Millimetres, grams, degrees, minutes. README says what the numbers mean. */
export interface PlanDocument {
  readonly schema: 'scute-plan/5';
  readonly job: JobPlan;
  readonly scan: ScanPlan;
  readonly parting: PartingPlan;
  readonly coats: readonly CoatPlan[];
  /** What the shell is built of; kept whole in the plan, so that it reads the same on another machine. */
  readonly material: MaterialSystem;
  /** Further systems that single coats choose by id. */
  readonly otherMaterials: readonly MaterialSystem[];
  readonly rubber: MaterialSystem;
  readonly filler: MaterialSystem;
  readonly bench: BenchPlan;
  readonly supplies: SuppliesPlan;
  readonly stock: readonly StockPlan[];
  readonly day: DayPlan;
  readonly casting: CastingPlan;
  readonly lifting: LiftingPlan;
  readonly log: LogPlan;
  /** Edge of a field cell, mm; 'auto' lets the tool choose from the thinnest coat and the size of the scan. */
  readonly resolutionMm: number | 'auto';
  /** Least thickness that will do, mm: predicted coats below it are called thin. */
  readonly leastThicknessMm: number;
  /**
   * Radius of the trowel that levels the last coat, mm: hollows of the outside too tight for it are filled, so the outside
   * is closed by a ball of this radius. Null: the last coat is left as brushed. It bears on thin spots, not on amounts.
   */
  readonly trowelRadiusMm: number | null;
}

export interface JobPlan {
  readonly name: string;
  readonly shop: string;
}

export const LENGTH_UNITS = ['mm', 'cm', 'm', 'in', 'ft'] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];
export const UP_AXES = ['x', 'y', 'z', '-x', '-y', '-z'] as const;
export type UpAxis = (typeof UP_AXES)[number];

/** How the file becomes a mould standing on its board at z = 0. Applied in the order of the keys. */
export interface ScanPlan {
  /** File name as opened, for people; never a path that is read. */
  readonly file: string;
  /** 'auto': guessed from the size, and said so in the warnings. */
  readonly unit: LengthUnit | 'auto';
  /** Further factor on the unit; 1 = as the unit says. */
  readonly scale: number;
  /** 'auto': found from the flat base or the lowest open loop, and said so. */
  readonly up: UpAxis | 'auto';
  /** Turn about the up axis after it stands upright, degrees, counter-clockwise seen from above. */
  readonly turnDeg: number;
  /** Small further tilt, degrees, about x then y, after the turn; for scans that do not stand quite straight. */
  readonly tiltDeg: readonly [number, number];
  /** Height of the board along the up axis after unit, scale, turn; 'auto' finds it, 'none' takes the lowest point and keeps a closed scan's base as part of S. */
  readonly board: number | 'auto' | 'none';
  /** Planes that cut away: kept is the side where normal . x <= offsetMm, in the frame where the board is z = 0. */
  readonly crops: readonly CropPlane[];
  /** Separate parts smaller than this share of the largest part's area are dropped as crumbs. */
  readonly crumbShare: number;
  /** Open loops whose perimeter is at most this are filled, mm; the base loop never. */
  readonly fillHolesToMm: number;
  /** Repairs that are left undone, by the codes of their notes, each once. */
  readonly leave: readonly LeavableRepair[];
  /** 'rubber': S is the scan. 'pattern': S is the surface at `rubberMm` from it. */
  readonly is: 'rubber' | 'pattern';
  readonly rubberMm: number;
  /** Areas left out of S (key backs, pour opening). */
  readonly keepClear: readonly MarkedArea[];
}

export interface CropPlane {
  readonly normal: Vec3;
  readonly offsetMm: number;
}

/** An area painted on the rubber: the part of S within the brush's radius of any of its dabs. */
export interface MarkedArea {
  readonly name: string;
  readonly radiusMm: number;
  /** Where the brush was set down, board frame; at least one. */
  readonly dabsMm: readonly Vec3[];
}

export interface PartingPlan {
  /** Number of pieces when `lines` is 'auto'. 1: no line. */
  readonly pieceCount: number;
  /** Azimuths of the pulls, degrees from +x, counter-clockwise from above; 'auto': chosen by the tool. One value for two pieces means that and its opposite. */
  readonly pullAzimuthsDeg: readonly number[] | 'auto';
  /** 'auto': the tool's first lines for the pulls. Otherwise the user's own. */
  readonly lines: readonly PartingLinePlan[] | 'auto';
  /** Names and pulls given by the user, matched to regions by the anchor point that lies in them. */
  readonly pieces: readonly PiecePlan[];
  readonly flange: FlangePlan | null;
  /**
   * How far the rubber yields, mm, square to the pull, before it counts as locked. Craft knowledge, not geometry: it
   * depends on the rubber, its thickness and the hand.
   */
  readonly rubberGiveMm: number;
  /** Areas that suggested lines keep out of (a face, lettering): painted as areas kept clear are. */
  readonly notHere: readonly MarkedArea[];
  /**
   * Filler the user accepts in the undercuts: 'all' of those that lock deeper than the rubber yields, or those that hold (or
   * lie nearest to) these points of the rubber's surface. The shell is then planned over rubber and filler.
   */
  readonly blockOut: 'all' | readonly Vec3[];
}

/** Control points on the rubber, board frame, mm; joined along the surface. Open lines run from board to board, or end on another line. */
export interface PartingLinePlan {
  readonly id: string;
  readonly points: readonly Vec3[];
  readonly closed: boolean;
}

export interface PiecePlan {
  /** A point of the surface inside the piece. */
  readonly anchorMm: Vec3;
  readonly name: string;
  /** Unit vector of the pull, or null: chosen by the tool. */
  readonly pull: Vec3 | null;
}

export interface FlangePlan {
  /** Height of the flange from the rubber, along the parting wall, mm (must exceed the shell's thickness to add anything). */
  readonly widthMm: number;
  /** Thickness to each side of the wall, mm. */
  readonly thicknessMm: number;
}

export const COAT_KINDS = ['face', 'build', 'reinforced', 'finish'] as const;
export type CoatKind = (typeof COAT_KINDS)[number];

export interface CoatPlan {
  readonly name: string;
  readonly kind: CoatKind;
  /** Thickness of this coat alone, mm. */
  readonly thicknessMm: number;
  /** Id of one of `otherMaterials`; null: of the plan's own `material`. */
  readonly systemId: string | null;
  readonly additives: readonly AdditiveDose[];
  /** Mass of reinforcement on the mass of the mix without it; null: the system's typical one in a reinforced coat, none in others. */
  readonly reinforcementShare: number | null;
  /** Wait after this coat, minutes: the user's own word instead of the system's cure. Null: by the system. */
  readonly waitMin: number | null;
}

export interface AdditiveDose {
  /** Name of an additive of the coat's system. */
  readonly name: string;
  /** Share of the mass of the additive's base. */
  readonly doseShare: number;
}

/** How this shop mixes and lays up. */
export interface BenchPlan {
  /** The largest bucket, ml, and how full it may be. */
  readonly bucketMl: number;
  readonly bucketFillShare: number;
  /** The most that the mixer turns over, g; null: only the bucket limits. */
  readonly mixerMostG: number | null;
  /** Each weighing goes on the finest scale that carries it. At least one. */
  readonly scales: readonly ScalePlan[];
  /** How far a component may be off its part of the mix after rounding, share of it. */
  readonly ratioTolerance: number;
  /** Kept free at the end of the working time, minutes. */
  readonly marginMin: number;
  /** Area that one pair of hands lays up in a minute, cm2, by kind of coat. */
  readonly paceCm2PerMin: Readonly<Record<CoatKind, number>>;
  /** People at work. */
  readonly hands: number;
  readonly batches: 'equal' | 'full-and-rest';
}

export interface ScalePlan {
  readonly name: string;
  readonly mostG: number;
  readonly stepG: number;
}

/** What is bought beside the mixes. Prices in `currency`, null where not known. */
export interface SuppliesPlan {
  /** For people: a sign or a code, such as "EUR". */
  readonly currency: string;
  readonly shim: {
    readonly name: string;
    readonly thicknessMm: number;
    readonly densityGPerCm3: number;
    /** Cut strip: as long as it comes; its width must cover the flange. */
    readonly stripLengthMm: number;
    readonly stripWidthMm: number;
    /** Overlap of one strip over the next, mm. */
    readonly overlapMm: number;
    readonly stripsPerPack: number;
    readonly packPrice: number | null;
  };
  readonly release: {
    readonly name: string;
    /** Area that a kilogram covers, m2, and how many coats of it are brushed. */
    readonly coverageM2PerKg: number;
    readonly coats: number;
    readonly packs: readonly { readonly massG: number; readonly price: number | null }[];
  };
  readonly fastener: {
    readonly name: string;
    /** The pull that one is trusted with, N. */
    readonly workingLoadN: number;
    /** No two stand farther apart along the flange, mm. */
    readonly mostSpacingMm: number;
    readonly perPack: number;
    readonly packPrice: number | null;
  };
}

/** What lies in the shop already: mass of a component, additive, reinforcement, rubber or release by its name. */
export interface StockPlan {
  readonly item: string;
  readonly massG: number;
}

export interface DayPlan {
  /** First day, "2026-12-01"; null: not fixed yet, days are then counted. */
  readonly startDate: string | null;
  /** Working hours, minutes after midnight. */
  readonly fromMin: number;
  readonly toMin: number;
  /** Saturdays and Sundays are worked too. */
  readonly weekends: boolean;
  /** Order in which the pieces are built, by id; empty: as listed. */
  readonly order: readonly string[];
  /** Minutes of the steps that no material sets. */
  readonly stepMin: Readonly<Record<DayStep, number>>;
}

export const DAY_STEPS = [
  /** Setting up the parting wall, per metre of line. */
  'wallPerM',
  'releaseBrush',
  'releaseDry',
  'setOut',
  'shimsOut',
  'edgeClean',
  'trimPerPiece',
  'open',
  'assemble',
] as const;
export type DayStep = (typeof DAY_STEPS)[number];

export interface CastingPlan {
  /** What is poured into the mould. */
  readonly densityGPerCm3: number;
  /** How the mould stands when it is filled: on its board as it was built, or turned over with the foot upward. */
  readonly attitude: 'as-built' | 'foot-up';
  /** Height of the fill above the lowest point of the rubber as it stands for pouring, mm; 'full': to the top. */
  readonly levelMm: number | 'full';
  /** Wall of a hollow cast, mm; null: cast solid. */
  readonly wallMm: number | null;
  /** Rubber's own thickness, mm, when the scan is of the rubber: for weights alone. */
  readonly rubberMm: number;
}

export interface LiftingPlan {
  /** Hands in front of the ankles' midpoint, mm; 'auto': from the piece's own depth. */
  readonly horizontalMm: number | 'auto';
  /** Height of the hands where the lift begins and ends, mm above the floor. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Turn of the body, degrees. */
  readonly asymmetryDeg: number;
  readonly grip: 'good' | 'fair' | 'poor';
  readonly liftsPerMin: number;
}

/** What really happened. */
export interface LogPlan {
  readonly batches: readonly LoggedBatch[];
  readonly probes: readonly ProbedPoint[];
  /** Coats that are finished, whatever was planned: pieces' ids with the coat's number from 0. */
  readonly closed: readonly { readonly piece: string; readonly coat: number }[];
}

export interface LoggedBatch {
  readonly piece: string;
  /** Number of the coat, from 0. */
  readonly coat: number;
  /** Number of the batch within its coat and piece, from 1. */
  readonly number: number;
  /** What was mixed, g. */
  readonly mixedG: number;
  /** What stayed in the bucket and was thrown away, g; null: not weighed. */
  readonly leftG: number | null;
  /** From the mix's being ready until it was on the wall, minutes; null: not timed. */
  readonly layMin: number | null;
  /**
   * When it was ticked, ISO 8601: by the shop's clock ("2026-12-01T09:30:00+01:00") the day goes on from it; in universal
   * time ("...Z") it is for people alone.
   */
  readonly at: string;
}

export interface ProbedPoint {
  /** On the rubber, board frame. */
  readonly pointMm: Vec3;
  /** Measured thickness of the shell there, mm. */
  readonly thicknessMm: number;
  /** How many coats were on. */
  readonly coatsOn: number;
}
