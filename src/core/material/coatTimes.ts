import { listWords } from '../listWords.ts';
import type { CoatTimes } from '../PlanResult.ts';
import type { AdditiveDose, CoatPlan } from '../plan/PlanDocument.ts';
import { type DosedTime, doseMinutes } from './doseMinutes.ts';
import { lotOf } from './lotOf.ts';
import type { Additive, MaterialSystem } from './MaterialSystem.ts';
import type { RecipeNote } from './RecipeNote.ts';
import { sayShare } from './sayShare.ts';

const TIMES = ['workingMin', 'partialCureMin', 'fullCureMin'] as const;
type TimeKey = (typeof TIMES)[number];
const TIME_WORDS: Readonly<Record<TimeKey, string>> = {
  workingMin: 'working time',
  partialCureMin: 'partial cure',
  fullCureMin: 'full cure',
};

interface Dosed {
  readonly additive: Additive;
  readonly doseShare: number;
  /** Null: the additive's points say nothing of this time. */
  readonly times: Readonly<Record<TimeKey, DosedTime | null>>;
}

/**
 * How long a coat of this recipe can be worked and takes to cure, minutes, and what in that is not known.
 *
 * A time without additives is the lot's measured one where a lot is in use, else the system's. One additive sets it by its own
 * points (`doseMinutes`). Two or more at once, or an additive on a measured lot: each one's effect is taken as the ratio to the
 * time without it, and the ratios are multiplied, which a note calls an assumption. The coat's own `waitMin` stands before
 * the partial cure. `latestOvercoatMin` is the system's; what additives do to it is not known.
 * Source: own; no published rule for several additives was found.
 */
export function coatTimes(
  system: MaterialSystem,
  coat: CoatPlan,
): { readonly times: CoatTimes; readonly notes: readonly RecipeNote[] } {
  const dosed = coat.additives.flatMap((dose) => dosedBy(system, dose));
  const lot = lotOf(system);
  const notes: RecipeNote[] = dosed.flatMap((one) => noteUnknown(coat, one));
  const multiplied = new Set<string>();
  const timeOf = (key: TimeKey): number => {
    const acting = dosed.flatMap(({ times }) => (times[key] ? [times[key]] : []));
    const measured = lot?.[key] ?? null;
    if (acting.length === 0) return measured ?? system.times[key];
    if (acting.length === 1 && measured === null) return acting[0].minutes;
    multiplied.add(TIME_WORDS[key]);
    let minutes = measured ?? system.times[key];
    for (const one of acting) minutes *= one.minutes / one.plainMin;
    return minutes;
  };
  const workingMin = timeOf('workingMin');
  const curedMin = timeOf('partialCureMin');
  const fullCureMin = timeOf('fullCureMin');
  if (multiplied.size > 0) notes.push(noteMultiplied(coat, dosed, [...multiplied], lot?.lot ?? null));
  return {
    times: {
      workingMin,
      partialCureMin: coat.waitMin ?? curedMin,
      fullCureMin,
      latestOvercoatMin: system.times.latestOvercoatMin,
    },
    notes,
  };
}

/** What this dose does, or nothing where the system does not know the additive (`checkRecipe` tells) or none of it goes in. */
function dosedBy(system: MaterialSystem, { name, doseShare }: AdditiveDose): Dosed[] {
  const additive = system.additives.find((one) => one.name === name);
  if (!additive || doseShare <= 0) return [];
  const timeOf = (key: TimeKey): DosedTime | null =>
    doseMinutes(additive.effects[key], system.times[key], doseShare);
  const times = {
    workingMin: timeOf('workingMin'),
    partialCureMin: timeOf('partialCureMin'),
    fullCureMin: timeOf('fullCureMin'),
  };
  return [{ additive, doseShare, times }];
}

function noteUnknown(coat: CoatPlan, { additive, doseShare, times }: Dosed): RecipeNote[] {
  const notes: RecipeNote[] = [];
  // The wait that the user gave stands whatever the additive does to the partial cure.
  const keys = TIMES.filter((key) => !(key === 'partialCureMin' && coat.waitMin !== null));
  const silent = keys.filter((key) => times[key] === null);
  if (silent.length > 0) {
    notes.push({
      code: 'dose-unknown',
      text: `Coat “${coat.name}”: what ${additive.name} does to ${listed(silent)} is not given; counted as without it. Time a cup at ${sayShare(doseShare)} and add the point.`,
    });
  }
  for (const takenAtShare of new Set(keys.map((key) => times[key]?.takenAtShare ?? null))) {
    if (takenAtShare === null) continue;
    const beyond = keys.filter((key) => times[key]?.takenAtShare === takenAtShare);
    const values = listWords(beyond.map((key) => sayMinutes(times[key]?.minutes ?? 0)));
    const [dose, edge] = [sayShare(doseShare), sayShare(takenAtShare)];
    notes.push({
      code: 'dose-unknown',
      text: `Coat “${coat.name}”: ${additive.name} at ${dose}, but its ${listed(beyond)} ${beyond.length > 1 ? 'are' : 'is'} given from 0 % to ${edge} only. What holds at ${edge} is taken: ${values}. Time a cup at ${dose} and add the point.`,
    });
  }
  return notes;
}

function noteMultiplied(
  coat: CoatPlan,
  dosed: readonly Dosed[],
  words: readonly string[],
  lot: string | null,
): RecipeNote {
  const names = listWords(dosed.map(({ additive }) => additive.name));
  const on = lot === null ? '' : ` on the times measured for lot ${lot}`;
  return {
    code: 'effects-multiplied',
    text: `Coat “${coat.name}”: ${listWords(words)} with ${names}${on} is worked out by multiplying what each does alone. That is an assumption, no source; time a cup of this very mix.`,
  };
}

function listed(keys: readonly TimeKey[]): string {
  return listWords(keys.map((key) => TIME_WORDS[key]));
}

function sayMinutes(minutes: number): string {
  return `${Number(minutes.toPrecision(3))} min`;
}
