/** Tolerances that more than one test uses, each with its reason. */

/** Sums of up to a million doubles in another order: 1e6 * 2^-53 at worst, in practice its root. */
export const ROUNDING_SHARE = 1e-9;

/**
 * Distances are kept in single precision while a field grows, so that two runs on meshes that differ by rounding may keep
 * other, equally near triangles: a part in 2^24 of each distance, some cells wide.
 */
export const SINGLE_SHARE = 1e-6;
