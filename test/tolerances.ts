/** Tolerances that more than one test uses, each with its reason. */

/** Sums of up to a million doubles in another order: 1e6 * 2^-53 at worst, in practice its root. */
export const ROUNDING_SHARE = 1e-9;

/** Distances are kept in single precision while a field grows: a part in 2^24, well averaged over the cells of a coat. */
export const SINGLE_SHARE = 1e-6;

/**
 * Where two triangles are equally near to a cell, rounding decides which is kept, and now and then a neighbour is found
 * from it or not: of 10,000 cells one or two then lie off by a tenth of a cell. The bound holds as much for rounding.
 */
export const TIE_SHARE = 2e-5;
