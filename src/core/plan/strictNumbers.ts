import * as v from 'valibot';

/** A finite number from `least` to `most`; NaN and infinities are refused by name, not by luck. */
export function numberFrom(least: number, most: number) {
  return v.pipe(
    v.number('is not a number'),
    v.finite('is not a finite number'),
    v.minValue(least, (issue) => `is ${issue.input}, less than the least allowed ${least}`),
    v.maxValue(most, (issue) => `is ${issue.input}, more than the most allowed ${most}`),
  );
}

/** A finite number greater than zero, at most `most`. */
export function positiveNumber(most: number) {
  return v.pipe(
    v.number('is not a number'),
    v.finite('is not a finite number'),
    v.gtValue(0, (issue) => `is ${issue.input}; it must be greater than 0`),
    v.maxValue(most, (issue) => `is ${issue.input}, more than the most allowed ${most}`),
  );
}

/** A line of text that fits a title block. */
export function shortText(leastLength: number) {
  return v.pipe(
    v.string('is not text'),
    v.minLength(leastLength, 'is empty'),
    v.maxLength(200, 'is longer than 200 characters'),
  );
}
