/**
 * Units where a person reads or types; inside, everything is millimetres and grams.
 *
 * Factors are exact by definition: NIST Handbook 44, Appendix C, and 16 CFR 500.19; of force and pressure: NIST SP 811.
 */

import { MM_PER_INCH, MM_PER_UNIT } from './plan/lengthUnits.ts';
import type { LengthUnit } from './plan/PlanDocument.ts';

/** Exact: NIST HB 44 App. C. */
export const G_PER_POUND = 453.59237;
/** Exact, a sixteenth of the pound: NIST HB 44 App. C. */
export const G_PER_OUNCE = 28.349523125;
/** Exact, 231 cubic inches: NIST HB 44 App. C; 16 CFR 500.19. */
export const MM3_PER_US_GALLON = 231 * MM_PER_INCH ** 3;

/** Standard acceleration of free fall, m/s2: exact by convention (ISO 80000-3; NIST SP 811), from memory. */
export const FREE_FALL_M_PER_S2 = 9.80665;
/** Newtons in a pound-force and pascals in a pound-force a square inch: NIST SP 811, Appendix B.8, from exact definitions. */
export const N_PER_POUND_FORCE = (G_PER_POUND / 1000) * FREE_FALL_M_PER_S2;
const PA_PER_PSI = N_PER_POUND_FORCE / (MM_PER_INCH / 1000) ** 2;

const MM2_PER_SQUARE_INCH = MM_PER_INCH ** 2;
const MM2_PER_SQUARE_FOOT = (12 * MM_PER_INCH) ** 2;
const MM3_PER_CUBIC_INCH = MM_PER_INCH ** 3;

/** Which units a person reads. */
export type UnitSystem = 'metric' | 'us';
export type MassUnitName = 'g' | 'kg' | 'oz' | 'lb';
export type Quantity = 'length' | 'mass' | 'area' | 'volume';

/** Grams in one of each unit. */
export const G_PER_UNIT: Readonly<Record<MassUnitName, number>> = {
  g: 1,
  kg: 1000,
  oz: G_PER_OUNCE,
  lb: G_PER_POUND,
};

export interface ParseOptions {
  /** Left out or false: a negative quantity is a problem. */
  readonly allowNegative?: boolean;
}

/** What people write for each unit, lower case. */
const LENGTH_WORDS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  cm: 'cm',
  centimetre: 'cm',
  centimetres: 'cm',
  centimeter: 'cm',
  centimeters: 'cm',
  m: 'm',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  in: 'in',
  'in.': 'in',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  ft: 'ft',
  'ft.': 'ft',
  foot: 'ft',
  feet: 'ft',
  "'": 'ft',
};

const MASS_WORDS: Readonly<Record<string, MassUnitName>> = {
  g: 'g',
  gram: 'g',
  grams: 'g',
  kg: 'kg',
  kilo: 'kg',
  kilos: 'kg',
  kilogram: 'kg',
  kilograms: 'kg',
  oz: 'oz',
  'oz.': 'oz',
  ounce: 'oz',
  ounces: 'oz',
  lb: 'lb',
  lbs: 'lb',
  'lb.': 'lb',
  'lbs.': 'lb',
  pound: 'lb',
  pounds: 'lb',
};

/** Units that are written one after the other, larger first: 2 ft 3 in, 1 m 20 cm, 1 lb 4 oz. */
const FAMILIES: readonly (readonly string[])[] = [
  ['ft', 'in'],
  ['m', 'cm', 'mm'],
  ['lb', 'oz'],
  ['kg', 'g'],
];

const VULGAR_FRACTIONS: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/**
 * A length typed by a person, in millimetres, or a sentence that says why it cannot be read.
 * Understands 9.5 | 9,5 | 9.5mm | 3/8 in | 3/8" | 1 1/2 in | 2 ft 3 in; a bare number is in `defaultUnit`.
 */
export function parseLength(
  text: string,
  defaultUnit: LengthUnit,
  options: ParseOptions = {},
): { readonly mm: number } | { readonly problem: string } {
  const parsed = parseQuantity(text, defaultUnit, LENGTH_WORDS, MM_PER_UNIT, '9.5 mm or 3/8 in', options);
  return 'problem' in parsed ? parsed : { mm: parsed.value };
}

/** A mass typed by a person, in grams, or a sentence that says why it cannot be read. Understands 620 | 1.2 kg | 1 lb 4 oz. */
export function parseMass(
  text: string,
  defaultUnit: MassUnitName,
  options: ParseOptions = {},
): { readonly g: number } | { readonly problem: string } {
  const parsed = parseQuantity(text, defaultUnit, MASS_WORDS, G_PER_UNIT, '620 g or 1 lb 4 oz', options);
  return 'problem' in parsed ? parsed : { g: parsed.value };
}

/**
 * One part of a quantity: a mixed number, a fraction or a decimal, then letters or a foot or inch mark.
 * The whole number and its fraction are parted by spaces or by one hyphen, as in 1 1/2 and 1-1/2.
 */
const PART =
  /^\s*(?:(\d+)(?:\s+|\s*-\s*)(\d+)\s*\/\s*(\d+)|(\d+)\s*\/\s*(\d+)|(\d*[.,]\d+|\d+[.,]?))\s*([a-z]+\.?|"|')?/;

function parseQuantity<U extends string>(
  text: string,
  defaultUnit: U,
  words: Readonly<Record<string, U>>,
  perUnit: Readonly<Record<U, number>>,
  example: string,
  options: ParseOptions,
): { value: number } | { problem: string } {
  const shown = text.trim();
  if (shown === '') return { problem: `Nothing was given; write a number such as ${example}.` };
  let rest = normalise(shown);
  let sign = 1;
  if (/^[+-]/.test(rest)) {
    if (rest[0] === '-') sign = -1;
    rest = rest.slice(1);
  }
  if (/\d,\d{3}(?!\d)/.test(rest) && !/(^|[^\d])0+,\d{3}(?!\d)/.test(rest)) {
    return {
      problem: `“${shown}” can be read in two ways, with the comma between thousands or before decimals; write it without a comma.`,
    };
  }
  const unreadable = { problem: `“${shown}” cannot be read; write it like ${example}.` };
  let value = 0;
  let family: readonly string[] | undefined;
  let lastRank = -1;
  for (let count = 0; rest.trim() !== ''; count++) {
    const match = PART.exec(rest);
    if (match === null) return unreadable;
    const number = readNumber(match);
    if (number === 'zero-below') return { problem: `“${shown}” divides by zero.` };
    const word = match[7];
    rest = rest.slice(match[0].length);
    let unit: U = defaultUnit;
    if (word === undefined) {
      // A number without a unit can only stand alone: in "2 ft 3" the 3 may be inches or a slip.
      if (rest.trim() !== '' && !/^\s*[\d.,]/.test(rest)) return unreadable;
      if (count > 0 || rest.trim() !== '') {
        return { problem: `“${shown}” has a number without its unit; write it like ${example}.` };
      }
    } else {
      const known = Object.hasOwn(words, word) ? words[word] : undefined;
      if (known === undefined) {
        const units = Object.keys(perUnit).join(', ');
        return { problem: `“${word}” in “${shown}” is no unit known here; use one of ${units}.` };
      }
      unit = known;
    }
    if (count === 0) family = FAMILIES.find((units) => units.includes(unit));
    const rank = family?.indexOf(unit) ?? -1;
    if (rank <= lastRank) {
      return { problem: `The units in “${shown}” do not go together; write it like ${example}.` };
    }
    lastRank = rank;
    value += number * perUnit[unit];
  }
  if (sign < 0 && value > 0 && options.allowNegative !== true) {
    return { problem: `“${shown}” is negative; a positive number is needed here.` };
  }
  if (!Number.isFinite(value)) return unreadable;
  return { value: value === 0 ? 0 : sign * value };
}

/** Lower case, with typographic marks, minus signs and ready-made fractions brought to plain ones. */
function normalise(text: string): string {
  return text
    .toLowerCase()
    .replace(/[¼½¾⅛⅜⅝⅞]/g, (glyph) => ` ${VULGAR_FRACTIONS[glyph]}`)
    .replace(/\u2044/g, '/')
    .replace(/\u2212/g, '-')
    .replace(/[\u2033\u201d\u201c]|''/g, '"')
    .replace(/[\u2032\u2019\u2018]/g, "'")
    .replace(/[\u00a0\u202f\u2009]/g, ' ')
    .trim();
}

function readNumber(match: RegExpExecArray): number | 'zero-below' {
  if (match[1] !== undefined) {
    return Number(match[3]) === 0 ? 'zero-below' : Number(match[1]) + Number(match[2]) / Number(match[3]);
  }
  if (match[4] !== undefined) {
    return Number(match[5]) === 0 ? 'zero-below' : Number(match[4]) / Number(match[5]);
  }
  return Number(match[6].replace(',', '.'));
}

/** How a quantity is written: in `unit`, divided by `per`, with so many decimals. */
interface Style {
  readonly per: number;
  readonly unit: string;
  readonly decimals: number;
}

/** From here on the ounces beside the pounds no longer matter. */
const MIXED_TO_POUNDS = 20;
/** Lengths of one foot and more are given in feet and inches only from here on; below, plain inches read better. */
const FEET_FROM_INCHES = 24;

/** A length for people: 9.5 mm, 412 mm, 1.18 m; 3/8 in (to 1/32 below an inch, 1/16 above), 2 ft 3 1/8 in. */
export function formatLength(valueMm: number, system: UnitSystem): string {
  if (system === 'metric') return formatStyled(valueMm, styleOf(valueMm, 'length', system));
  const inches = Math.abs(valueMm) / MM_PER_INCH;
  const sign = valueMm < 0 ? '-' : '';
  // Below a sixty-fourth the nearest thirty-second would print as nothing.
  if (inches > 0 && inches < 1 / 64) return formatStyled(valueMm, styleOf(valueMm, 'length', system));
  if (inches < FEET_FROM_INCHES) return `${sign}${formatInches(inches, inches < 1 ? 32 : 16)} in`;
  const eighths = Math.round(inches * 8);
  const feet = Math.floor(eighths / 96);
  const left = eighths - feet * 96;
  return left === 0 ? `${sign}${feet} ft` : `${sign}${feet} ft ${formatInches(left / 8, 8)} in`;
}

/**
 * A mass for people: 620 g, 3.31 kg; 9.4 oz, 7 lb 4.8 oz, 23.4 lb. The unit is chosen for `like`, so that a column can
 * keep to one.
 */
export function formatMass(valueG: number, system: UnitSystem, like = valueG): string {
  const pounds = Math.abs(like) / G_PER_POUND;
  if (system === 'us' && pounds >= 1 && pounds < MIXED_TO_POUNDS) {
    const tenths = Math.round((Math.abs(valueG) / G_PER_OUNCE) * 10);
    const whole = Math.floor(tenths / 160);
    const sign = valueG < 0 ? '-' : '';
    return `${sign}${whole} lb ${((tenths - whole * 160) / 10).toFixed(1)} oz`;
  }
  return formatStyled(valueG, styleOf(valueG, 'mass', system, like));
}

/** An area for people: 48.2 cm², 1 436 cm², 1.52 m²; 22.3 in², 3.41 ft². The unit is chosen for `like`. */
export function formatArea(valueMm2: number, system: UnitSystem, like = valueMm2): string {
  return formatStyled(valueMm2, styleOf(valueMm2, 'area', system, like));
}

/** A volume for people: 9.3 ml, 480 ml, 3.83 L; 22.3 in³, 1.24 gal. The unit is chosen for `like`. */
export function formatVolume(valueMm3: number, system: UnitSystem, like = valueMm3): string {
  return formatStyled(valueMm3, styleOf(valueMm3, 'volume', system, like));
}

/** A force for people: "85 N", "1.13 kN"; "254 lbf". The sign is kept. */
export function formatForce(forceN: number, system: UnitSystem): string {
  if (system === 'us') return `${threeDigits(forceN / N_PER_POUND_FORCE)}\u00a0lbf`;
  return Math.abs(forceN) >= 1000 ? `${threeDigits(forceN / 1000)}\u00a0kN` : `${threeDigits(forceN)}\u00a0N`;
}

/** A force as the mass that weighs so much, for people: "8.67 kg" for 85 N. */
export function formatWeight(forceN: number, system: UnitSystem): string {
  return formatMass((1000 * forceN) / FREE_FALL_M_PER_S2, system);
}

/** A load along a line for people: "1.20 N/mm"; "6.85 lbf/in". */
export function formatLineLoad(loadNPerMm: number, system: UnitSystem): string {
  return system === 'us'
    ? `${formatForce(loadNPerMm * MM_PER_INCH, system)}/in`
    : `${formatForce(loadNPerMm, system)}/mm`;
}

/** A pressure of a fluid for people: "9.41 kPa"; "1.37 psi". */
export function formatPressure(pressurePa: number, system: UnitSystem): string {
  return system === 'us'
    ? `${threeDigits(pressurePa / PA_PER_PSI)}\u00a0psi`
    : `${threeDigits(pressurePa / 1000)}\u00a0kPa`;
}

/** A stress for people: "2.68 MPa"; "389 psi". */
export function formatStress(stressMPa: number, system: UnitSystem): string {
  return system === 'us'
    ? `${threeDigits((stressMPa * 1e6) / PA_PER_PSI)}\u00a0psi`
    : `${threeDigits(stressMPa)}\u00a0MPa`;
}

/** Mass of a sheet for its area, for people: "450 g/m²", "2.10 kg/m²"; "1.47 oz/ft²", from a pound on "1.02 lb/ft²". */
export function formatArealMass(gPerM2: number, system: UnitSystem): string {
  if (system === 'metric') {
    return gPerM2 >= 1000 ? `${threeDigits(gPerM2 / 1000)}\u00a0kg/m²` : `${threeDigits(gPerM2)}\u00a0g/m²`;
  }
  const gPerSquareFoot = (gPerM2 * MM2_PER_SQUARE_FOOT) / 1e6;
  return gPerSquareFoot >= G_PER_POUND
    ? `${threeDigits(gPerSquareFoot / G_PER_POUND)}\u00a0lb/ft²`
    : `${threeDigits(gPerSquareFoot / G_PER_OUNCE)}\u00a0oz/ft²`;
}

/** Three digits, as many as such a figure deserves; whole numbers above a thousand keep theirs. */
function threeDigits(value: number): string {
  const size = Math.abs(value);
  if (size < 1e-3) return '0';
  const text = size >= 100 ? value.toFixed(0) : size >= 10 ? value.toFixed(1) : value.toFixed(2);
  return text.replace('-', '\u2212');
}

/**
 * A bound for people, with its sign, in the unit of the value that it stands beside: ± 0.02 kg. Rounded upwards, so
 * that what is printed still covers; to two figures, or fewer where the value beside is printed much more coarsely.
 */
export function formatBound(
  bound: number,
  beside: number,
  quantity: Quantity,
  system: UnitSystem,
  like = beside,
): string {
  const style = styleOf(beside, quantity, system, like);
  const shown = Math.abs(bound) / style.per;
  if (shown === 0) return `± 0 ${style.unit}`;
  if (!Number.isFinite(shown)) return '± unknown';
  const decimals = Math.min(style.decimals + 1, Math.max(0, 1 - Math.floor(Math.log10(shown))));
  // The hair taken off keeps a value that is already round from being pushed to the next step by rounding noise.
  const step = 10 ** decimals;
  const rounded = Math.ceil(shown * step * (1 - 1e-12)) / step;
  return `± ${groupDigits(rounded.toFixed(decimals))} ${style.unit}`;
}

/** The unit fits `like`, the decimals fit the value in that unit. */
function styleOf(value: number, quantity: Quantity, system: UnitSystem, like = value): Style {
  const size = Math.abs(value);
  const kin = Math.abs(like);
  switch (quantity) {
    case 'length':
      if (system === 'us') return { per: MM_PER_INCH, unit: 'in', decimals: size < 2.54 ? 3 : 2 };
      if (kin >= 1000) return { per: 1000, unit: 'm', decimals: 2 };
      return { per: 1, unit: 'mm', decimals: size >= 100 ? 0 : size >= 1 ? 1 : 2 };
    case 'mass':
      if (system === 'us') {
        return kin >= MIXED_TO_POUNDS * G_PER_POUND
          ? { per: G_PER_POUND, unit: 'lb', decimals: 1 }
          : { per: G_PER_OUNCE, unit: 'oz', decimals: size < G_PER_OUNCE ? 2 : 1 };
      }
      if (kin >= 1000) return { per: 1000, unit: 'kg', decimals: size >= 100_000 ? 1 : 2 };
      return { per: 1, unit: 'g', decimals: size >= 10 ? 0 : 1 };
    case 'area':
      if (system === 'us') {
        return kin >= MM2_PER_SQUARE_FOOT
          ? { per: MM2_PER_SQUARE_FOOT, unit: 'ft²', decimals: 2 }
          : { per: MM2_PER_SQUARE_INCH, unit: 'in²', decimals: 1 };
      }
      if (kin >= 1e6) return { per: 1e6, unit: 'm²', decimals: 2 };
      return { per: 100, unit: 'cm²', decimals: size >= 10_000 ? 0 : 1 };
    case 'volume':
      if (system === 'us') {
        return kin >= MM3_PER_US_GALLON
          ? { per: MM3_PER_US_GALLON, unit: 'gal', decimals: 2 }
          : { per: MM3_PER_CUBIC_INCH, unit: 'in³', decimals: size < MM3_PER_CUBIC_INCH * 100 ? 1 : 0 };
      }
      if (kin >= 1e6) return { per: 1e6, unit: 'L', decimals: 2 };
      return { per: 1000, unit: 'ml', decimals: size >= 10_000 ? 0 : 1 };
  }
}

function formatStyled(value: number, style: Style): string {
  const fixed = (value / style.per).toFixed(style.decimals);
  // toFixed may print a negative zero, which reads as a slip.
  return `${groupDigits(Number(fixed) === 0 ? fixed.replace('-', '') : fixed)} ${style.unit}`;
}

/** Thousands parted by a narrow no-break space, from five figures on and in four-figure whole numbers alike: a comma may be read as a decimal one. */
export function groupDigits(fixed: string): string {
  const [whole, decimals] = fixed.split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, '\u202f');
  return decimals === undefined ? grouped : `${grouped}.${decimals}`;
}

/** Inches to the nearest 1/`denominator`, reduced: 1 1/2, 3/8, 2. */
function formatInches(inches: number, denominator: number): string {
  let parts = Math.round(inches * denominator);
  const whole = Math.floor(parts / denominator);
  parts -= whole * denominator;
  if (parts === 0) return `${whole}`;
  let below = denominator;
  while (parts % 2 === 0) {
    parts /= 2;
    below /= 2;
  }
  return whole === 0 ? `${parts}/${below}` : `${whole} ${parts}/${below}`;
}
