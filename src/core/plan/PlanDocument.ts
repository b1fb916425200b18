import type { Vec3 } from '../mesh/TriMesh.ts';

/** Everything the user decides, as small plain JSON. Millimetres, grams, degrees, minutes. README says what the numbers mean. */
export interface PlanDocument {
  readonly schema: 'scute-plan/2';
  readonly job: JobPlan;
  readonly scan: ScanPlan;
  readonly parting: PartingPlan;
  readonly coats: readonly CoatPlan[];
  /** Id of a built-in system, or a system of the user's own. */
  readonly material: MaterialSystem;
  /** Edge of a field cell, mm; 'auto' lets the tool choose from the thinnest coat and the size of the scan. */
  readonly resolutionMm: number | 'auto';
  /** Least thickness that will do, mm: predicted coats below it are called thin. */
  readonly leastThicknessMm: number;
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
  /** 'rubber': S is the scan. 'pattern': S is the surface at `rubberMm` from it. */
  readonly is: 'rubber' | 'pattern';
  readonly rubberMm: number;
  /** Areas left out of S (key backs, pour opening): the part of S inside a ball. Board frame. */
  readonly keepClear: readonly KeepClearArea[];
}

export interface CropPlane {
  readonly normal: Vec3;
  readonly offsetMm: number;
}

export interface KeepClearArea {
  readonly name: string;
  readonly centreMm: Vec3;
  readonly radiusMm: number;
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
  /** Areas that suggested lines keep out of (a face, lettering): the part of S inside a ball. Board frame. */
  readonly notHere: readonly KeepClearArea[];
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
}

/** One material system; densities by the mixing rule (volumes add). The later material issue widens this. */
export interface MaterialSystem {
  readonly id: string;
  readonly name: string;
  readonly components: readonly MaterialComponent[];
  /** Mass of chopped fibre per mass of the mix without it, for coats of the kind 'reinforced'. */
  readonly fibreShare: number;
  readonly fibreDensityGPerCm3: number;
  /** Entrained air, share of the laid-up volume. */
  readonly airShare: number;
  /** Added to the mass to be mixed for what stays in buckets and brushes, share. */
  readonly lossShare: number;
  /** Density of thickened rubber used as rubber and filler, g/cm3. */
  readonly rubberDensityGPerCm3: number;
  /** For each value that matters, where it comes from. */
  readonly basis: Readonly<Record<string, string>>;
}

export interface MaterialComponent {
  readonly name: string;
  readonly partsByMass: number;
  readonly densityGPerCm3: number;
}
