/**
 * A material system as data: what a shell, the rubber or the filler is mixed from, and how it behaves. Shares are of 1,
 * masses in g, densities in g/cm3, times in minutes. Every value has a `basis`; the maker's own data sheet wins over all.
 */
export interface MaterialSystem {
  readonly id: string;
  readonly name: string;
  readonly uses: readonly SystemUse[];
  /** What can hurt in it; decides which cautions stand beside the steps. */
  readonly hazards: readonly Hazard[];
  /** Whether the components' `parts` are of mass or of volume. */
  readonly partsBy: 'mass' | 'volume';
  readonly components: readonly MaterialComponent[];
  readonly additives: readonly Additive[];
  /** Fibre, burlap or mat that goes into reinforced coats; null for a system that takes none. */
  readonly reinforcement: Reinforcement | null;
  /** Entrained air, share of the laid-up volume. */
  readonly airShare: number;
  /** What stays in brushes and falls, share of what is laid up. */
  readonly lossShare: number;
  /** What stays in the bucket, g a batch. */
  readonly lossPerBatchG: number;
  /** Without any additive. */
  readonly times: SystemTimes;
  readonly mixing: MixingRule;
  /** For screening the thickness; null where nothing fit to compare with is known. */
  readonly strength: Strength | null;
  /** Whole shell thickness that makes sense in this system, mm: for comparing systems. Null for rubbers. */
  readonly shellMm: { readonly least: number; readonly usual: number; readonly most: number } | null;
  /** The shop's own measured values, by lot of the product. */
  readonly lots: readonly MaterialLot[];
  /** Name of the lot whose measured values stand before the others; null: none. */
  readonly lotInUse: string | null;
  /**
   * Where each value comes from, by its path: names of components and additives, keys of this interface, parted by dots
   * ("powder.densityGPerCm3", "thickener", "times.workingMin"). A path speaks for all that lies below it (`basisOf`).
   */
  readonly basis: Readonly<Record<string, Basis>>;
}

export const SYSTEM_USES = ['shell', 'rubber', 'filler'] as const;
export type SystemUse = (typeof SYSTEM_USES)[number];

export const HAZARDS = [
  'gypsum-dust',
  'glass-fibre',
  'setting-heat',
  'styrene',
  'peroxide',
  'epoxy',
  'isocyanate',
] as const;
export type Hazard = (typeof HAZARDS)[number];

export const BASIS_KINDS = ['published', 'common-practice', 'from-memory', 'yours'] as const;
export interface Basis {
  readonly kind: (typeof BASIS_KINDS)[number];
  /** The source, or why it is taken; a sentence or less. */
  readonly text: string;
}

export interface MaterialComponent {
  readonly name: string;
  /** Relative to the other components' parts, in the system's `partsBy`. */
  readonly parts: number;
  readonly densityGPerCm3: number;
  /** Water in it, share of its mass: what dries out unless it is bound. Water itself: 1. */
  readonly waterShare: number;
  /** Water that its mass binds for good when it sets, share of its mass. Hemihydrate: 0.186. */
  readonly bindsWaterShare: number;
  /** Null: keeps, or unknown. */
  readonly shelfLifeMonths: number | null;
  readonly packs: readonly Pack[];
}

export interface Pack {
  readonly massG: number;
  /** In the plan's currency; null: not known. */
  readonly price: number | null;
}

export interface Additive {
  readonly name: string;
  /** What the dose is a share of: a component's mass, by its name, or the whole mix's (without reinforcement and additives). */
  readonly base: string;
  /** Share of the base's mass, of the additive as it is added (of the solution, where it is one). */
  readonly leastShare: number;
  readonly typicalShare: number;
  readonly mostShare: number;
  /** As added. */
  readonly densityGPerCm3: number;
  /** Added as a solution of so much in so much water; null: as it is. */
  readonly solution: { readonly activeG: number; readonly waterG: number } | null;
  /** What it does to each time; an empty list: not known, the time is then as without it. */
  readonly effects: {
    readonly workingMin: readonly DosePoint[];
    readonly partialCureMin: readonly DosePoint[];
    readonly fullCureMin: readonly DosePoint[];
  };
  readonly shelfLifeMonths: number | null;
  /** Of the active matter, not of the solution. */
  readonly packs: readonly Pack[];
}

/** At this dose the time is so long. Between two points it is interpolated; beyond the outer ones nothing is known. */
export interface DosePoint {
  readonly doseShare: number;
  readonly minutes: number;
}

export interface Reinforcement {
  readonly name: string;
  /** 'chopped': stirred in; 'sheet': burlap, mat or cloth, laid in. */
  readonly form: 'chopped' | 'sheet';
  /** Mass on the mass of the mix without it. */
  readonly leastShare: number;
  readonly typicalShare: number;
  readonly mostShare: number;
  readonly densityGPerCm3: number;
  /** Length of the chopped fibre, mm; null for sheets. */
  readonly lengthMm: number | null;
  /** Mass of one layer of a sheet, g/m2; null for chopped fibre. */
  readonly arealGPerM2: number | null;
  readonly packs: readonly Pack[];
}

export interface SystemTimes {
  /** From the moment the parts meet until the mix can no longer be spread. */
  readonly workingMin: number;
  /** Until the next coat may go on. */
  readonly partialCureMin: number;
  /** Until shims may come out and the piece may be handled. */
  readonly fullCureMin: number;
  /** After laying, the next coat must be on by then to bond without keying; null: no limit known. */
  readonly latestOvercoatMin: number | null;
}

export interface MixingRule {
  /** Names of components and additives, in the order in which they go into the bucket; the reinforcement goes last. */
  readonly order: readonly string[];
  /** From the first powder or hardener on until it can be laid, minutes. */
  readonly mixMin: number;
  /** The reinforcement is stirred for no longer than this, s; null: laid in, or no limit. */
  readonly reinforcementMixS: number | null;
}

export interface Strength {
  /** Stress in bending at which it yields, MPa: the low one where sources differ. */
  readonly flexuralMPa: number;
  readonly modulusGPa: number;
}

/** Measured in the shop on one lot; null where it was not. */
export interface MaterialLot {
  readonly lot: string;
  /** Of the mix as laid up, without reinforcement. */
  readonly densityGPerCm3: number | null;
  readonly workingMin: number | null;
  readonly partialCureMin: number | null;
  readonly fullCureMin: number | null;
}
