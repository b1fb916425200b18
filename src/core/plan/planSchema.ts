import * as v from 'valibot';
import { materialSchema } from '../material/materialSchema.ts';
import { LEAVABLE_REPAIRS } from './leavableRepairs.ts';
import { COAT_KINDS, DAY_STEPS, type DayStep, LENGTH_UNITS, UP_AXES } from './PlanDocument.ts';
import { numberFrom, positiveNumber, shortText } from './strictNumbers.ts';
import { isWorkYear, WORK_YEARS } from './workYears.ts';

/** Nothing that is brushed with rubber is larger: 100 m. Keeps a slip of the unit from running the field out of memory. */
const FARTHEST_MM = 100_000;
/** Thicker coats than this are castings. */
const THICKEST_MM = 200;
/** A direction's length may differ from 1 by rounding when it was typed or stored with few digits. */
const UNIT_LENGTH_SLACK = 1e-3;

const coordinate = numberFrom(-FARTHEST_MM, FARTHEST_MM);
const point = v.strictTuple([coordinate, coordinate, coordinate], 'is not a list of three numbers');
const direction = v.pipe(
  v.strictTuple(
    [numberFrom(-1.01, 1.01), numberFrom(-1.01, 1.01), numberFrom(-1.01, 1.01)],
    'is not a list of three numbers',
  ),
  v.check(
    ([x, y, z]) => Math.abs(Math.hypot(x, y, z) - 1) <= UNIT_LENGTH_SLACK,
    'is not a direction of length 1',
  ),
);
const auto = v.literal('auto', 'is neither "auto" nor of the other forms allowed');

/** A brush of 5 mm drawn along a metre leaves 400 dabs at half its radius. Own choice. */
const MOST_DABS = 2000;

const areas = v.pipe(
  v.array(
    v.strictObject({
      name: shortText(0),
      radiusMm: positiveNumber(FARTHEST_MM),
      dabsMm: v.pipe(
        v.array(point, 'is not a list'),
        v.minLength(1, 'has no dab'),
        v.maxLength(MOST_DABS, `has more than ${MOST_DABS} dabs`),
      ),
    }),
    'is not a list',
  ),
  v.maxLength(50, 'has more than 50 areas'),
);

const scan = v.strictObject({
  file: v.pipe(v.string('is not text'), v.maxLength(500, 'is longer than 500 characters')),
  unit: v.picklist([...LENGTH_UNITS, 'auto'], `is none of auto, ${LENGTH_UNITS.join(', ')}`),
  scale: numberFrom(1e-6, 1e6),
  up: v.picklist([...UP_AXES, 'auto'], `is none of auto, ${UP_AXES.join(', ')}`),
  turnDeg: numberFrom(-360, 360),
  tiltDeg: v.strictTuple([numberFrom(-90, 90), numberFrom(-90, 90)], 'is not a list of two numbers'),
  board: v.union(
    [v.picklist(['auto', 'none']), coordinate],
    'is neither "auto" nor "none" nor a height in mm',
  ),
  crops: v.pipe(
    v.array(v.strictObject({ normal: direction, offsetMm: coordinate }), 'is not a list'),
    v.maxLength(20, 'has more than 20 planes'),
  ),
  crumbShare: numberFrom(0, 1),
  fillHolesToMm: numberFrom(0, FARTHEST_MM),
  leave: v.pipe(
    v.array(v.picklist(LEAVABLE_REPAIRS, `is none of ${LEAVABLE_REPAIRS.join(', ')}`), 'is not a list'),
    v.maxLength(LEAVABLE_REPAIRS.length, `has more than ${LEAVABLE_REPAIRS.length} repairs`),
    v.check((codes) => new Set(codes).size === codes.length, 'names a repair twice'),
  ),
  is: v.picklist(['rubber', 'pattern'], 'is neither "rubber" nor "pattern"'),
  rubberMm: numberFrom(0, THICKEST_MM),
  keepClear: areas,
});

const line = v.pipe(
  v.strictObject({
    id: shortText(1),
    points: v.pipe(
      v.array(point, 'is not a list'),
      v.minLength(2, 'has fewer than two points'),
      v.maxLength(2000, 'has more than 2000 points'),
    ),
    closed: v.boolean('is neither true nor false'),
  }),
  v.forward(
    v.check(
      (given) => !given.closed || given.points.length >= 3,
      'has fewer than the three points that a closed line needs',
    ),
    ['points'],
  ),
);

const parting = v.strictObject({
  pieceCount: v.pipe(numberFrom(1, 12), v.integer('is not a whole number')),
  pullAzimuthsDeg: v.union(
    [
      auto,
      v.pipe(
        v.array(numberFrom(-360, 360)),
        v.minLength(1, 'is empty; write "auto" or at least one azimuth'),
        v.maxLength(12, 'has more than 12 azimuths'),
      ),
    ],
    'is neither "auto" nor a list of degrees',
  ),
  lines: v.union(
    [
      auto,
      v.pipe(
        v.array(line),
        v.maxLength(100, 'has more than 100 lines'),
        v.check(
          (lines) => new Set(lines.map((one) => one.id)).size === lines.length,
          'has two lines of one id',
        ),
      ),
    ],
    'is neither "auto" nor a list of lines',
  ),
  pieces: v.pipe(
    v.array(
      v.strictObject({ anchorMm: point, name: shortText(1), pull: v.nullable(direction) }),
      'is not a list',
    ),
    v.maxLength(50, 'has more than 50 pieces'),
  ),
  flange: v.nullable(
    v.strictObject({ widthMm: positiveNumber(1000), thicknessMm: positiveNumber(THICKEST_MM) }),
  ),
  rubberGiveMm: numberFrom(0, THICKEST_MM),
  notHere: areas,
  blockOut: v.union(
    [v.literal('all'), v.pipe(v.array(point), v.maxLength(500, 'has more than 500 points'))],
    'is neither "all" nor a list of points',
  ),
});

/** A shell of more than this many coats, or a log of more batches, is a slip. */
const MOST_LISTED = 500;
/** Heavier than any bucket, pack or stock of a shop, g: 100 t. */
const HEAVIEST_G = 1e8;
/** A week in minutes: no step of the work takes longer. */
const LONGEST_MIN = 7 * 24 * 60;

const share = numberFrom(0, 1);
const minutes = numberFrom(0, LONGEST_MIN);
const massG = numberFrom(0, HEAVIEST_G);
const price = v.nullable(numberFrom(0, 1e9));
const positiveMass = positiveNumber(HEAVIEST_G);
const count = (most: number) => v.pipe(numberFrom(1, most), v.integer('is not a whole number'));
const indexFromZero = v.pipe(numberFrom(0, MOST_LISTED), v.integer('is not a whole number'));

const coat = v.strictObject({
  name: shortText(1),
  kind: v.picklist(COAT_KINDS, `is none of ${COAT_KINDS.join(', ')}`),
  thicknessMm: positiveNumber(THICKEST_MM),
  systemId: v.nullable(shortText(1)),
  additives: v.pipe(
    v.array(v.strictObject({ name: shortText(1), doseShare: share }), 'is not a list'),
    v.maxLength(12, 'has more than 12 additives'),
    v.check(
      (doses) => new Set(doses.map((dose) => dose.name)).size === doses.length,
      'names an additive twice',
    ),
  ),
  reinforcementShare: v.nullable(share),
  waitMin: v.nullable(minutes),
});

const bench = v.strictObject({
  bucketMl: positiveNumber(1e6),
  bucketFillShare: positiveNumber(1),
  mixerMostG: v.nullable(positiveMass),
  scales: v.pipe(
    v.array(
      v.strictObject({ name: shortText(1), mostG: positiveMass, stepG: positiveNumber(10_000) }),
      'is not a list',
    ),
    v.minLength(1, 'is empty; a batch needs at least one scale'),
    v.maxLength(6, 'has more than 6 scales'),
  ),
  ratioTolerance: positiveNumber(0.5),
  marginMin: minutes,
  paceCm2PerMin: v.strictObject({
    face: positiveNumber(1e5),
    build: positiveNumber(1e5),
    reinforced: positiveNumber(1e5),
    finish: positiveNumber(1e5),
  }),
  hands: count(20),
  batches: v.picklist(['equal', 'full-and-rest'], 'is neither "equal" nor "full-and-rest"'),
});

const supplies = v.strictObject({
  currency: shortText(0),
  shim: v.strictObject({
    name: shortText(1),
    thicknessMm: positiveNumber(10),
    densityGPerCm3: positiveNumber(25),
    stripLengthMm: positiveNumber(FARTHEST_MM),
    stripWidthMm: positiveNumber(FARTHEST_MM),
    overlapMm: numberFrom(0, 500),
    stripsPerPack: count(10_000),
    packPrice: price,
  }),
  release: v.strictObject({
    name: shortText(1),
    coverageM2PerKg: positiveNumber(1000),
    coats: count(10),
    packs: v.array(v.strictObject({ massG: positiveMass, price }), 'is not a list'),
  }),
  fastener: v.strictObject({
    name: shortText(1),
    workingLoadN: positiveNumber(1e6),
    mostSpacingMm: positiveNumber(5000),
    perPack: count(10_000),
    packPrice: price,
  }),
});

const day = v.strictObject({
  startDate: v.nullable(
    v.pipe(
      v.string('is not text'),
      v.isoDate('is not a date such as "2026-12-01"'),
      // "2026-02-30" would silently be read as the second of March.
      v.check((text) => isDayOfCalendar(text), 'is no day of the calendar'),
      v.check((text) => isWorkYear(text), `lies outside the years ${WORK_YEARS.from} to ${WORK_YEARS.to}`),
    ),
  ),
  fromMin: numberFrom(0, 24 * 60),
  toMin: numberFrom(0, 24 * 60),
  weekends: v.boolean('is neither true nor false'),
  order: v.pipe(v.array(shortText(1), 'is not a list'), v.maxLength(50, 'has more than 50 pieces')),
  stepMin: v.strictObject(
    Object.fromEntries(DAY_STEPS.map((step) => [step, minutes])) as Record<DayStep, typeof minutes>,
  ),
});

const casting = v.strictObject({
  densityGPerCm3: positiveNumber(25),
  attitude: v.picklist(['as-built', 'foot-up'], 'is neither "as-built" nor "foot-up"'),
  levelMm: v.union([v.literal('full'), numberFrom(0, FARTHEST_MM)], 'is neither "full" nor a height in mm'),
  wallMm: v.nullable(positiveNumber(FARTHEST_MM)),
  rubberMm: numberFrom(0, THICKEST_MM),
});

const lifting = v.strictObject({
  horizontalMm: v.union([auto, numberFrom(1, 2000)], 'is neither "auto" nor a distance in mm'),
  fromMm: numberFrom(0, 3000),
  toMm: numberFrom(0, 3000),
  asymmetryDeg: numberFrom(0, 180),
  grip: v.picklist(['good', 'fair', 'poor'], 'is none of good, fair, poor'),
  liftsPerMin: numberFrom(0, 20),
});

const log = v.strictObject({
  batches: v.pipe(
    v.array(
      v.strictObject({
        piece: shortText(1),
        coat: indexFromZero,
        number: count(MOST_LISTED),
        mixedG: positiveMass,
        leftG: v.nullable(massG),
        layMin: v.nullable(minutes),
        at: shortText(0),
      }),
      'is not a list',
    ),
    v.maxLength(MOST_LISTED, `has more than ${MOST_LISTED} batches`),
  ),
  probes: v.pipe(
    v.array(
      v.strictObject({ pointMm: point, thicknessMm: numberFrom(0, THICKEST_MM), coatsOn: count(20) }),
      'is not a list',
    ),
    v.maxLength(MOST_LISTED, `has more than ${MOST_LISTED} points`),
  ),
  closed: v.pipe(
    v.array(v.strictObject({ piece: shortText(1), coat: indexFromZero }), 'is not a list'),
    v.maxLength(MOST_LISTED, `has more than ${MOST_LISTED} coats`),
  ),
});

/** Shape and ranges of the plan document; unknown keys are refused, so that a misspelt key is not silently ignored. */
export const planSchema = v.strictObject({
  schema: v.literal('scute-plan/5', 'is not "scute-plan/5"'),
  job: v.strictObject({ name: shortText(0), shop: shortText(0) }),
  scan,
  parting,
  coats: v.pipe(
    v.array(coat, 'is not a list'),
    v.minLength(1, 'is empty; a shell needs at least one coat'),
    v.maxLength(20, 'has more than 20 coats'),
  ),
  material: materialSchema,
  otherMaterials: v.pipe(
    v.array(materialSchema, 'is not a list'),
    v.maxLength(20, 'has more than 20 systems'),
  ),
  rubber: materialSchema,
  filler: materialSchema,
  bench,
  supplies,
  stock: v.pipe(
    v.array(v.strictObject({ item: shortText(1), massG }), 'is not a list'),
    v.maxLength(MOST_LISTED, `has more than ${MOST_LISTED} items`),
  ),
  day,
  casting,
  lifting,
  log,
  resolutionMm: v.union([auto, numberFrom(0.01, 100)], 'is neither "auto" nor a size in mm'),
  leastThicknessMm: numberFrom(0, THICKEST_MM),
  trowelRadiusMm: v.nullable(positiveNumber(FARTHEST_MM)),
});

function isDayOfCalendar(text: string): boolean {
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}
