import type { Stage } from './ViewPrefs.ts';

/** What the figure shows on the mould: its pieces, or a map of one quantity. */
export const PICTURES = ['pieces', 'thickness', 'undercut', 'draft', 'distance'] as const;
export type Picture = (typeof PICTURES)[number];
export type MapKind = Exclude<Picture, 'pieces'>;

/** A map's range as it was typed, in mm or degrees; null: as the values are spread. */
export interface MapRange {
  readonly least: number | null;
  readonly most: number | null;
}

export const OWN_RANGE: MapRange = { least: null, most: null };

/** The picture of each stage where it was chosen; the others show their first one. */
export type StagePictures = Readonly<Partial<Record<Stage, Picture>>>;
export type MapRanges = Readonly<Partial<Record<MapKind, MapRange>>>;

/** What a stage can show: before the parting there are no pieces to have a draft. */
export function picturesOf(stage: Stage): readonly Picture[] {
  return stage === 'scan' ? ['pieces', 'distance'] : PICTURES;
}

/** What a stage shows: what was chosen there, or what it is about. */
export function pictureAt(stage: Stage, chosen: StagePictures): Picture {
  const picture = chosen[stage];
  if (picture && picturesOf(stage).includes(picture)) return picture;
  return stage === 'coats' ? 'thickness' : 'pieces';
}

/** What an earlier visit kept; what is odd is left out. */
export function readStagePictures(stored: unknown, stages: readonly Stage[]): StagePictures {
  const kept: Partial<Record<Stage, Picture>> = {};
  if (typeof stored !== 'object' || stored === null) return kept;
  for (const stage of stages) {
    const picture = (stored as Record<string, unknown>)[stage];
    const known = PICTURES.find((one) => one === picture);
    if (known) kept[stage] = known;
  }
  return kept;
}

/** What an earlier visit kept; what is odd is left out. */
export function readMapRanges(stored: unknown): MapRanges {
  const kept: Partial<Record<MapKind, MapRange>> = {};
  if (typeof stored !== 'object' || stored === null) return kept;
  for (const picture of PICTURES) {
    const range = (stored as Record<string, unknown>)[picture];
    if (picture === 'pieces' || typeof range !== 'object' || range === null) continue;
    const { least, most } = range as Record<string, unknown>;
    const numberOr = (value: unknown) => (typeof value === 'number' && Number.isFinite(value) ? value : null);
    kept[picture] = { least: numberOr(least), most: numberOr(most) };
  }
  return kept;
}
