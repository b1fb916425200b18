import * as v from 'valibot';
import { numberFrom, positiveNumber, shortText } from '../plan/strictNumbers.ts';

/** As in the present schema: denser things are a slip of the unit. */
const DENSEST_G_PER_CM3 = 12;

/** The form that material files had in their first version, and plans up to the second: kept so that they still open. */
export const material1Schema = v.strictObject({
  id: v.pipe(
    v.string('is not text'),
    v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'is not an id of small letters, digits and hyphens'),
  ),
  name: shortText(1),
  components: v.pipe(
    v.array(
      v.strictObject({
        name: shortText(1),
        partsByMass: positiveNumber(1e6),
        densityGPerCm3: numberFrom(0.01, DENSEST_G_PER_CM3),
      }),
      'is not a list',
    ),
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
  basis: v.record(
    v.string(),
    v.pipe(v.string('is not text'), v.maxLength(2000, 'is longer than 2000 characters')),
    'is not a table of texts',
  ),
});

export type MaterialSystem1 = v.InferOutput<typeof material1Schema>;
