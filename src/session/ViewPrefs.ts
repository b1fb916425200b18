import type { UnitSystem } from '../core/units.ts';
import { type BenchProgress, readBenchProgress } from './benchProgress.ts';
import { type MapRanges, readMapRanges, readStagePictures, type StagePictures } from './mapPrefs.ts';
import { readTimers, type Timer } from './timers.ts';

export const STAGES = ['scan', 'parting', 'coats', 'mix', 'sheet'] as const;
export type Stage = (typeof STAGES)[number];

export const SECTION_AXES = ['across', 'along', 'level'] as const;
/** Across: the plane seen from the front. Along: seen from the side. Level: seen from above. */
export type SectionAxis = (typeof SECTION_AXES)[number];

/** How the page is looked at. Kept between visits, never in the undo history, never in the plan file. */
export interface ViewPrefs {
  readonly stage: Stage;
  readonly units: UnitSystem;
  /** 'system' follows prefers-color-scheme. */
  readonly theme: 'system' | 'light' | 'dark';
  /** 0: closed, 1: the pieces stand as far apart as the mould is wide. */
  readonly apart: number;
  readonly isSectionOn: boolean;
  readonly sectionAxis: SectionAxis;
  /** Where the plane stands, 0..1 of the mould's extent along the axis. */
  readonly sectionAt: number;
  /** The shell is drawn over the rubber. */
  readonly isShellShown: boolean;
  /** What the figure shows on the mould, by stage, where it was chosen. */
  readonly pictures: StagePictures;
  /** Ranges of the maps that were typed. */
  readonly mapRanges: MapRanges;
  /** The map of thickness is of the coats up to this one; null: of all. */
  readonly mapCoat: number | null;
  /** Code of the findings in the scan that are drawn stronger than the others; null: none. */
  readonly foundShown: string | null;
  /** A hand or a person stands beside the mould at stage 1, to judge the size by. */
  readonly isScaleShown: boolean;
  /** Hints that were put away, by their keys; they never come back. */
  readonly hintsSeen: readonly string[];
  /** Parts of the panels that were folded away. */
  readonly folded: readonly string[];
  /** Countdowns under way or just over, soonest first. They belong to the shop's clock, not to a plan. */
  readonly timers: readonly Timer[];
  /** A timer that ends is heard, besides being read. */
  readonly isAlarmHeard: boolean;
  /** The page is one large step at a time, for a tablet that stands on the bench. */
  readonly isAtBench: boolean;
  /** What was ticked there, by job, the latest first. */
  readonly bench: readonly BenchProgress[];
}

export const DEFAULT_VIEW_PREFS: ViewPrefs = {
  stage: 'parting',
  units: 'metric',
  theme: 'system',
  apart: 0,
  isSectionOn: false,
  sectionAxis: 'across',
  sectionAt: 0.5,
  isShellShown: false,
  pictures: {},
  mapRanges: {},
  mapCoat: null,
  foundShown: null,
  isScaleShown: true,
  hintsSeen: [],
  folded: [],
  timers: [],
  isAlarmHeard: false,
  isAtBench: false,
  bench: [],
};

/** Whatever was kept by an earlier visit, with anything missing or odd replaced by the default. Never throws. */
export function readViewPrefs(stored: unknown, nowMs = Date.now()): ViewPrefs {
  if (typeof stored !== 'object' || stored === null) return DEFAULT_VIEW_PREFS;
  const s = stored as Record<string, unknown>;
  const d = DEFAULT_VIEW_PREFS;
  return {
    stage: oneOf(s.stage, STAGES, d.stage),
    units: oneOf(s.units, ['metric', 'us'] as const, d.units),
    theme: oneOf(s.theme, ['system', 'light', 'dark'] as const, d.theme),
    apart: shareOr(s.apart, d.apart),
    isSectionOn: typeof s.isSectionOn === 'boolean' ? s.isSectionOn : d.isSectionOn,
    sectionAxis: oneOf(s.sectionAxis, SECTION_AXES, d.sectionAxis),
    sectionAt: shareOr(s.sectionAt, d.sectionAt),
    isShellShown: typeof s.isShellShown === 'boolean' ? s.isShellShown : d.isShellShown,
    pictures: readStagePictures(s.pictures, STAGES),
    mapRanges: readMapRanges(s.mapRanges),
    mapCoat: Number.isInteger(s.mapCoat) && (s.mapCoat as number) >= 0 ? (s.mapCoat as number) : d.mapCoat,
    foundShown: typeof s.foundShown === 'string' ? s.foundShown : d.foundShown,
    isScaleShown: typeof s.isScaleShown === 'boolean' ? s.isScaleShown : d.isScaleShown,
    hintsSeen: stringsOr(s.hintsSeen, d.hintsSeen),
    folded: stringsOr(s.folded, d.folded),
    timers: readTimers(s.timers, nowMs),
    isAlarmHeard: typeof s.isAlarmHeard === 'boolean' ? s.isAlarmHeard : d.isAlarmHeard,
    isAtBench: typeof s.isAtBench === 'boolean' ? s.isAtBench : d.isAtBench,
    bench: readBenchProgress(s.bench),
  };
}

function oneOf<T extends string>(value: unknown, allowed: readonly T[], fallback: T): T {
  return allowed.find((a) => a === value) ?? fallback;
}

function shareOr(value: unknown, fallback: number): number {
  return typeof value === 'number' && value >= 0 && value <= 1 ? value : fallback;
}

function stringsOr(value: unknown, fallback: readonly string[]): readonly string[] {
  return Array.isArray(value) ? value.filter((entry) => typeof entry === 'string') : fallback;
}
