/** A measured value that stands out from the others of its kind, with what it was measured on. */
export interface Outlier<Of> {
  readonly of: Of;
  readonly value: number;
}

export interface Median<Of> {
  readonly median: number;
  /** How many values it is of; those that stand out are among them. */
  readonly count: number;
  /** All of them, in the order in which they were given. */
  readonly values: readonly number[];
  /** Values far from the median: named, not left out. */
  readonly outliers: readonly Outlier<Of>[];
}

/** Values farther from the median than three scaled deviations stand out: Hampel's rule, from memory. */
const OUTLIER_DEVIATIONS = 3;
/** Brings the median of absolute deviations to a standard deviation, where values scatter normally: 1 / 0.6745. */
const DEVIATION_SCALE = 1.4826;
/** Where most values agree to the gram, those within a tenth of the median do not stand out all the same. */
const LEAST_SPREAD_SHARE = 0.1;

/** The median of values, and which of them stand out. Of an even number: the mean of the middle two. Null of none. */
export function takeMedian<Of>(
  values: readonly { readonly of: Of; readonly value: number }[],
): Median<Of> | null {
  if (values.length === 0) return null;
  const median = middleOf(values.map(({ value }) => value));
  const deviation = middleOf(values.map(({ value }) => Math.abs(value - median)));
  const mostOff = Math.max(
    OUTLIER_DEVIATIONS * DEVIATION_SCALE * deviation,
    LEAST_SPREAD_SHARE * Math.abs(median),
  );
  return {
    median,
    count: values.length,
    values: values.map(({ value }) => value),
    outliers: values.filter(({ value }) => Math.abs(value - median) > mostOff),
  };
}

function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
