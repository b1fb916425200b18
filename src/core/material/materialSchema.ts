import * as v from 'valibot';
import { numberFrom, positiveNumber, shortText } from '../plan/strictNumbers.ts';

/** The densest thing that could be meant, g/cm3: above lead's 11.3 it is a slip of the unit (kg/m3 typed as g/cm3). */
const DENSEST_G_PER_CM3 = 12;

const componentEntries = {
  name: shortText(1),
  partsByMass: positiveNumber(1e6),
  densityGPerCm3: numberFrom(0.01, DENSEST_G_PER_CM3),
};

/** Shape and ranges of a material system; unknown keys are refused. */
export const materialSchema = v.strictObject({
  id: v.pipe(
    v.string('is not text'),
    v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'is not an id of small letters, digits and hyphens'),
  ),
  name: shortText(1),
  components: v.pipe(
    v.array(v.strictObject(componentEntries), 'is not a list'),
    v.minLength(1, 'is empty; a system needs at least one component'),
    v.maxLength(12, 'has more than 12 components'),
    v.check(
      (components) => new Set(components.map((c) => c.name)).size === components.length,
      'names a component twice',
    ),
    v.check(
      (components) => components.every((c) => c.name !== 'fibre'),
      'names a component “fibre”; that word is kept for fibreShare',
    ),
  ),
  fibreShare: numberFrom(0, 1),
  fibreDensityGPerCm3: numberFrom(0.01, DENSEST_G_PER_CM3),
  airShare: numberFrom(0, 0.9),
  lossShare: numberFrom(0, 1),
  rubberDensityGPerCm3: numberFrom(0.01, DENSEST_G_PER_CM3),
  basis: v.record(v.string(), shortTextLong(), 'is not a table of texts'),
});

/** A material file is the system with the name of its format before it. */
export const materialFileSchema = v.strictObject({
  schema: v.literal('scute-material/1', 'is not "scute-material/1"'),
  ...materialSchema.entries,
});

function shortTextLong() {
  return v.pipe(v.string('is not text'), v.maxLength(2000, 'is longer than 2000 characters'));
}
