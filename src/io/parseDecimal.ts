/** Powers of ten that a double holds exactly: 10^22 is the last. */
const EXACT_POWERS = Array.from({ length: 23 }, (_, n) => Number(`1e${n}`));

/** Up to this, ten times the mantissa plus a digit is still an exact integer of a double (2^53 / 10 - 1). */
const MAX_MANTISSA = 900719925474098;

const ZERO = 0x30;
const NINE = 0x39;

/**
 * The double nearest to the decimal number written in the bytes `from..to`, exactly as `Number(text)` would give it, or
 * NaN when the bytes are not a decimal number (words such as "nan" and "inf" included). May return an infinity when the
 * number is out of a double's range.
 *
 * A mantissa below 2^53 times or over a power of ten up to 10^22 needs a single rounding, so the result is exact; the
 * rest goes through `Number`. Source: W. D. Clinger, "How to read floating point numbers accurately" (1990), the fast
 * case. About ten times as fast as making a string of every token.
 */
export function parseDecimal(bytes: Uint8Array, from: number, to: number): number {
  let at = from;
  let isNegative = false;
  if (at < to && (bytes[at] === 0x2d || bytes[at] === 0x2b)) {
    isNegative = bytes[at] === 0x2d;
    at++;
  }
  let mantissa = 0;
  let exponent = 0;
  let digitCount = 0;
  let isExact = true;
  for (; at < to && bytes[at] >= ZERO && bytes[at] <= NINE; at++) {
    digitCount++;
    if (mantissa <= MAX_MANTISSA) mantissa = mantissa * 10 + (bytes[at] - ZERO);
    else isExact = false;
  }
  if (at < to && bytes[at] === 0x2e) {
    at++;
    for (; at < to && bytes[at] >= ZERO && bytes[at] <= NINE; at++) {
      digitCount++;
      if (mantissa <= MAX_MANTISSA) {
        mantissa = mantissa * 10 + (bytes[at] - ZERO);
        exponent--;
      } else isExact = false;
    }
  }
  if (digitCount === 0) return Number.NaN;
  if (at < to && (bytes[at] === 0x65 || bytes[at] === 0x45)) {
    at++;
    let isDown = false;
    if (at < to && (bytes[at] === 0x2d || bytes[at] === 0x2b)) {
      isDown = bytes[at] === 0x2d;
      at++;
    }
    if (at === to) return Number.NaN;
    let written = 0;
    for (; at < to && bytes[at] >= ZERO && bytes[at] <= NINE; at++) {
      if (written < 100000) written = written * 10 + (bytes[at] - ZERO);
    }
    exponent += isDown ? -written : written;
  }
  if (at !== to) return Number.NaN;
  if (!isExact || exponent > 22 || exponent < -22) {
    let text = '';
    for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]);
    return Number(text);
  }
  const size = exponent < 0 ? mantissa / EXACT_POWERS[-exponent] : mantissa * EXACT_POWERS[exponent];
  return isNegative ? -size : size;
}
