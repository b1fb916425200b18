import { G_PER_POUND, MM3_PER_US_GALLON, N_PER_POUND_FORCE, type UnitSystem } from '../../../core/units.ts';

/** A unit that a shop figure is typed in, and how many of the plan's own units one of it is. */
export interface ShopUnit {
  readonly unit: string;
  readonly per: number;
}

/** Exact: an inch is 25.4 mm (NIST Handbook 44, Appendix C). */
const CM2_PER_SQUARE_INCH = 2.54 ** 2;
const M2_PER_SQUARE_FOOT = 0.3048 ** 2;

export type ShopQuantity = 'bucket' | 'pace' | 'coverage' | 'load' | 'areal';

/** The plan keeps ml, cm2/min, m2/kg, N and g/m2. */
const UNITS: Readonly<Record<ShopQuantity, Readonly<Record<UnitSystem, ShopUnit>>>> = {
  bucket: {
    metric: { unit: 'L', per: 1000 },
    us: { unit: 'US quarts', per: MM3_PER_US_GALLON / 4 / 1000 },
  },
  pace: {
    metric: { unit: 'cm\u00b2/min', per: 1 },
    us: { unit: 'in\u00b2/min', per: CM2_PER_SQUARE_INCH },
  },
  coverage: {
    metric: { unit: 'm\u00b2/kg', per: 1 },
    us: { unit: 'ft\u00b2/lb', per: M2_PER_SQUARE_FOOT / (G_PER_POUND / 1000) },
  },
  load: { metric: { unit: 'N', per: 1 }, us: { unit: 'lbf', per: N_PER_POUND_FORCE } },
  areal: {
    metric: { unit: 'g/m\u00b2', per: 1 },
    us: { unit: 'oz/ft\u00b2', per: G_PER_POUND / 16 / M2_PER_SQUARE_FOOT },
  },
};

/** The unit in which a person of these habits types such a figure. */
export function shopUnit(quantity: ShopQuantity, system: UnitSystem): ShopUnit {
  return UNITS[quantity][system];
}
