import type { LengthUnit } from './PlanDocument.ts';

/** Exact: NIST Handbook 44, Appendix C. */
export const MM_PER_INCH = 25.4;

/** Millimetres in one of each unit that a scan may be in. Exact by definition. */
export const MM_PER_UNIT: Readonly<Record<LengthUnit, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  ft: 12 * MM_PER_INCH,
};
