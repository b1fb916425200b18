import * as v from 'valibot';
import { numberFrom, positiveNumber, shortText } from '../plan/strictNumbers.ts';
import { BASIS_KINDS, HAZARDS, SYSTEM_USES } from './MaterialSystem.ts';

/** The densest thing that could be meant, g/cm3: above lead's 11.3 it is a slip of the unit (kg/m3 typed as g/cm3). */
const DENSEST_G_PER_CM3 = 12;
/** Lighter than any foam that is mixed into a shell, g/cm3. */
const LIGHTEST_G_PER_CM3 = 0.01;
/** Ten weeks; nothing that is laid up by hand takes longer to set, so a longer time is a slip of the unit. */
const LONGEST_MIN = 100_000;
/** Mass of reinforcement on the mix: five to one is beyond what any mix wets. */
const MOST_REINFORCEMENT = 5;
/** A lorry load, g. */
const LARGEST_PACK_G = 3e7;

/**
 * Words that a name in a system may not be: the keys of the system, since paths of the basis begin with either, and "mix",
 * which stands for the whole mix where an additive's base is named.
 */
const KEPT_WORDS: ReadonlySet<string> = new Set([
  'mix',
  'id',
  'name',
  'uses',
  'hazards',
  'partsBy',
  'components',
  'additives',
  'reinforcement',
  'airShare',
  'lossShare',
  'lossPerBatchG',
  'times',
  'mixing',
  'strength',
  'shellMm',
  'lots',
  'lotInUse',
  'basis',
]);

const density = numberFrom(LIGHTEST_G_PER_CM3, DENSEST_G_PER_CM3);
const share = numberFrom(0, 1);
const minutes = positiveNumber(LONGEST_MIN);
const months = v.nullable(positiveNumber(1200));

/** A name that is weighed by: a path of the basis is parted by dots, so it holds none. */
const itemName = v.pipe(
  shortText(1),
  v.check((text) => text.trim() === text, 'begins or ends with a space'),
  v.check((text) => !text.includes('.'), 'has a dot in it; dots part the paths of the basis'),
  v.check(
    // What every object has by birth would be found in any table of masses by name.
    (text) => !KEPT_WORDS.has(text) && !(text in Object.prototype),
    (issue) => `is “${issue.input}”, a word that is kept for the system itself; take another name`,
  ),
);

const packs = v.pipe(
  v.array(
    v.strictObject({ massG: positiveNumber(LARGEST_PACK_G), price: v.nullable(numberFrom(0, 1e7)) }),
    'is not a list',
  ),
  v.maxLength(20, 'has more than 20 packs'),
);

const component = v.strictObject({
  name: itemName,
  parts: positiveNumber(1e6),
  densityGPerCm3: density,
  waterShare: share,
  bindsWaterShare: share,
  shelfLifeMonths: months,
  packs,
});

const dosePoints = v.pipe(
  v.array(v.strictObject({ doseShare: share, minutes }), 'is not a list'),
  v.maxLength(20, 'has more than 20 points'),
  v.check(
    (points) => points.every((point, i) => i === 0 || points[i - 1].doseShare !== point.doseShare),
    'has two points of one dose; keep one',
  ),
  v.check(
    (points) => points.every((point, i) => i === 0 || points[i - 1].doseShare <= point.doseShare),
    'is not in the order of the doses; put the smallest dose first',
  ),
);

const additive = v.pipe(
  v.strictObject({
    name: itemName,
    base: shortText(1),
    leastShare: share,
    typicalShare: share,
    mostShare: positiveNumber(1),
    densityGPerCm3: density,
    solution: v.nullable(
      v.strictObject({ activeG: positiveNumber(1e6), waterG: positiveNumber(1e6) }, 'is not a solution'),
    ),
    effects: v.strictObject({ workingMin: dosePoints, partialCureMin: dosePoints, fullCureMin: dosePoints }),
    shelfLifeMonths: months,
    packs,
  }),
  v.forward(
    v.check(
      (given) => isBetween(given),
      (issue) => sayNotBetween(issue.input),
    ),
    ['typicalShare'],
  ),
);

const reinforcement = v.pipe(
  v.strictObject({
    name: itemName,
    form: v.picklist(['chopped', 'sheet'], 'is neither "chopped" nor "sheet"'),
    leastShare: numberFrom(0, MOST_REINFORCEMENT),
    typicalShare: numberFrom(0, MOST_REINFORCEMENT),
    mostShare: positiveNumber(MOST_REINFORCEMENT),
    densityGPerCm3: density,
    lengthMm: v.nullable(positiveNumber(1000)),
    arealGPerM2: v.nullable(positiveNumber(10_000)),
    packs,
  }),
  v.forward(
    v.check(
      (given) => isBetween(given),
      (issue) => sayNotBetween(issue.input),
    ),
    ['typicalShare'],
  ),
);

const times = v.pipe(
  v.strictObject({
    workingMin: minutes,
    partialCureMin: minutes,
    fullCureMin: minutes,
    latestOvercoatMin: v.nullable(minutes),
  }),
  v.forward(
    v.check(
      (given) => given.latestOvercoatMin === null || given.latestOvercoatMin >= given.partialCureMin,
      (issue) =>
        `is ${issue.input.latestOvercoatMin}, before the partial cure of ${issue.input.partialCureMin}: no next coat could go on in between`,
    ),
    ['latestOvercoatMin'],
  ),
);

const shellMm = v.pipe(
  v.strictObject({ least: positiveNumber(500), usual: positiveNumber(500), most: positiveNumber(500) }),
  v.forward(
    v.check(
      (given) => given.least <= given.usual && given.usual <= given.most,
      (issue) => `is ${issue.input.usual}, not from ${issue.input.least} to ${issue.input.most}`,
    ),
    ['usual'],
  ),
);

const lots = v.pipe(
  v.array(
    v.strictObject({
      lot: shortText(1),
      densityGPerCm3: v.nullable(density),
      workingMin: v.nullable(minutes),
      partialCureMin: v.nullable(minutes),
      fullCureMin: v.nullable(minutes),
    }),
    'is not a list',
  ),
  v.maxLength(200, 'has more than 200 lots'),
  v.check((given) => new Set(given.map((one) => one.lot)).size === given.length, 'names a lot twice'),
);

const NO_TABLE = 'is not a table of where the values come from';

const basis = v.pipe(
  // A list would pass for a table with numbers as keys.
  v.custom<Record<string, unknown>>(
    (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
    NO_TABLE,
  ),
  v.record(
    v.pipe(v.string(), v.minLength(1, 'is empty'), v.maxLength(500, 'is longer than 500 characters')),
    v.strictObject({
      kind: v.picklist(BASIS_KINDS, `is none of ${BASIS_KINDS.join(', ')}`),
      text: v.pipe(
        v.string('is not text'),
        v.minLength(1, 'is empty; say where the value comes from'),
        v.maxLength(2000, 'is longer than 2000 characters'),
      ),
    }),
    NO_TABLE,
  ),
);

/** Shape and ranges of a material system; unknown keys are refused, and so are names that nothing answers to. */
export const materialSchema = v.pipe(
  v.strictObject({
    id: v.pipe(
      v.string('is not text'),
      v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'is not an id of small letters, digits and hyphens'),
    ),
    name: shortText(1),
    uses: v.pipe(
      v.array(v.picklist(SYSTEM_USES, `is none of ${SYSTEM_USES.join(', ')}`), 'is not a list'),
      v.minLength(1, 'is empty; say what the system is for'),
      v.check((given) => new Set(given).size === given.length, 'names a use twice'),
    ),
    hazards: v.pipe(
      v.array(v.picklist(HAZARDS, `is none of ${HAZARDS.join(', ')}`), 'is not a list'),
      v.check((given) => new Set(given).size === given.length, 'names a hazard twice'),
    ),
    partsBy: v.picklist(['mass', 'volume'], 'is neither "mass" nor "volume"'),
    components: v.pipe(
      v.array(component, 'is not a list'),
      v.minLength(1, 'is empty; a system needs at least one component'),
      v.maxLength(12, 'has more than 12 components'),
    ),
    additives: v.pipe(v.array(additive, 'is not a list'), v.maxLength(12, 'has more than 12 additives')),
    reinforcement: v.nullable(reinforcement),
    airShare: numberFrom(0, 0.9),
    lossShare: share,
    lossPerBatchG: numberFrom(0, 1e5),
    times,
    mixing: v.strictObject({
      order: v.array(v.string('is not text'), 'is not a list'),
      mixMin: numberFrom(0, LONGEST_MIN),
      reinforcementMixS: v.nullable(positiveNumber(36_000)),
    }),
    strength: v.nullable(
      v.strictObject({ flexuralMPa: positiveNumber(10_000), modulusGPa: positiveNumber(1000) }),
    ),
    shellMm: v.nullable(shellMm),
    lots,
    lotInUse: v.nullable(shortText(1)),
    basis,
  }),
  v.rawCheck(({ dataset, addIssue }) => {
    if (!dataset.typed) return;
    for (const { keys, message } of nameFaults(dataset.value)) {
      addIssue({ message, path: pathTo(dataset.value, keys) });
    }
  }),
);

interface Range {
  readonly leastShare: number;
  readonly typicalShare: number;
  readonly mostShare: number;
}

function isBetween(given: Range): boolean {
  return given.leastShare <= given.typicalShare && given.typicalShare <= given.mostShare;
}

function sayNotBetween(given: Range): string {
  return `is ${given.typicalShare}, not from leastShare ${given.leastShare} to mostShare ${given.mostShare}`;
}

interface NameFault {
  readonly keys: readonly [string, ...(string | number)[]];
  readonly message: string;
}

interface NamedParts {
  readonly components: readonly { readonly name: string }[];
  readonly additives: readonly { readonly name: string; readonly base: string }[];
  readonly reinforcement: { readonly name: string } | null;
  readonly mixing: { readonly order: readonly string[] };
  readonly lots: readonly { readonly lot: string }[];
  readonly lotInUse: string | null;
}

/** What is wrong among the names of a system: one thing named twice, or a name that nothing in it answers to. */
function nameFaults(system: NamedParts): NameFault[] {
  const faults: NameFault[] = [];
  const taken = new Set<string>();
  const take = (keys: NameFault['keys'], name: string): void => {
    if (taken.has(name)) faults.push({ keys, message: `is “${name}”, which is named twice in the system` });
    taken.add(name);
  };
  system.components.forEach((one, i) => {
    take(['components', i, 'name'], one.name);
  });
  const componentNames = new Set(taken);
  system.additives.forEach((one, i) => {
    take(['additives', i, 'name'], one.name);
    if (one.base === 'mix' || componentNames.has(one.base)) return;
    const known = ['mix', ...componentNames].join(', ');
    faults.push({ keys: ['additives', i, 'base'], message: `is “${one.base}”, which is none of ${known}` });
  });
  const weighed = new Set(taken);
  if (system.reinforcement) take(['reinforcement', 'name'], system.reinforcement.name);
  const ordered = new Set<string>();
  system.mixing.order.forEach((name, i) => {
    const keys: NameFault['keys'] = ['mixing', 'order', i];
    if (!weighed.has(name)) {
      faults.push({ keys, message: `is “${name}”, which is no component or additive of the system` });
    }
    if (ordered.has(name)) faults.push({ keys, message: `is “${name}”, which stands in the order twice` });
    ordered.add(name);
  });
  for (const name of componentNames) {
    if (ordered.has(name)) continue;
    faults.push({ keys: ['mixing', 'order'], message: `does not say when “${name}” goes in` });
  }
  if (system.lotInUse !== null && !system.lots.some((one) => one.lot === system.lotInUse)) {
    faults.push({ keys: ['lotInUse'], message: `is “${system.lotInUse}”, which is none of the lots` });
  }
  return faults;
}

/** The way to a value inside the system, in the form in which issues carry it. */
function pathTo(system: object, keys: NameFault['keys']): [v.IssuePathItem, ...v.IssuePathItem[]] {
  const [first, ...rest] = keys;
  const path: [v.IssuePathItem, ...v.IssuePathItem[]] = [itemOf(system, first)];
  for (const key of rest) path.push(itemOf(path[path.length - 1].value, key));
  return path;
}

function itemOf(input: unknown, key: string | number): v.IssuePathItem {
  const value: unknown = typeof input === 'object' && input !== null ? Reflect.get(input, key) : undefined;
  return { type: 'unknown', origin: 'value', input, key, value };
}
