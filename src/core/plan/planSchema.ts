import * as v from 'valibot';
import { materialSchema } from '../material/materialSchema.ts';
import { COAT_KINDS, LENGTH_UNITS, UP_AXES } from './PlanDocument.ts';
import { numberFrom, positiveNumber, shortText } from './strictNumbers.ts';

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

const areas = v.pipe(
  v.array(
    v.strictObject({ name: shortText(0), centreMm: point, radiusMm: positiveNumber(FARTHEST_MM) }),
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

const coat = v.strictObject({
  name: shortText(1),
  kind: v.picklist(COAT_KINDS, `is none of ${COAT_KINDS.join(', ')}`),
  thicknessMm: positiveNumber(THICKEST_MM),
});

/** Shape and ranges of the plan document; unknown keys are refused, so that a misspelt key is not silently ignored. */
export const planSchema = v.strictObject({
  schema: v.literal('scute-plan/2', 'is not "scute-plan/2"'),
  job: v.strictObject({ name: shortText(0), shop: shortText(0) }),
  scan,
  parting,
  coats: v.pipe(
    v.array(coat, 'is not a list'),
    v.minLength(1, 'is empty; a shell needs at least one coat'),
    v.maxLength(20, 'has more than 20 coats'),
  ),
  material: materialSchema,
  resolutionMm: v.union([auto, numberFrom(0.01, 100)], 'is neither "auto" nor a size in mm'),
  leastThicknessMm: numberFrom(0, THICKEST_MM),
});
