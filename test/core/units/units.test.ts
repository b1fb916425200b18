import { describe, expect, it } from 'vitest';
import { MM_PER_INCH } from '../../../src/core/plan/lengthUnits.ts';
import {
  formatArea,
  formatBound,
  formatLength,
  formatMass,
  formatVolume,
  G_PER_OUNCE,
  G_PER_POUND,
  MM3_PER_US_GALLON,
  parseLength,
  parseMass,
} from '../../../src/core/units.ts';

describe('factors, exact (NIST Handbook 44, Appendix C; 16 CFR 500.19)', () => {
  it('inch, pound, ounce, gallon', () => {
    expect(MM_PER_INCH).toBe(25.4);
    expect(G_PER_POUND).toBe(453.59237);
    expect(G_PER_OUNCE).toBe(28.349523125);
    expect(G_PER_OUNCE * 16).toBe(G_PER_POUND);
    // 1 US gal = 231 in3 = 3.785 411 784 L.
    expect(MM3_PER_US_GALLON).toBeCloseTo(3_785_411.784, 6);
    // 1 in3 = 16.387 064 cm3, 1 ft2 = 929.0304 cm2.
    expect(MM_PER_INCH ** 3).toBeCloseTo(16_387.064, 9);
    expect((12 * MM_PER_INCH) ** 2).toBeCloseTo(92_903.04, 9);
  });
});

describe('parseLength', () => {
  const read: [string, 'mm' | 'in' | 'm', number][] = [
    ['9.5', 'mm', 9.5],
    ['9,5', 'mm', 9.5],
    ['.5', 'mm', 0.5],
    ['0,125', 'mm', 0.125],
    ['9.5mm', 'in', 9.5],
    ['  9.5  mm ', 'in', 9.5],
    ['3/8 in', 'mm', 9.525],
    ['3/8"', 'mm', 9.525],
    ['3/8″', 'mm', 9.525],
    ['3/8', 'in', 9.525],
    ['⅜ in', 'mm', 9.525],
    ['1 1/2 in', 'mm', 38.1],
    ['1-1/2in', 'mm', 38.1],
    ['1½"', 'mm', 38.1],
    ['2 ft 3 in', 'mm', 685.8],
    ['2\' 3 1/2"', 'mm', 698.5],
    ['2ft', 'mm', 609.6],
    ['1.8 m', 'mm', 1800],
    ['1 m 20 cm', 'mm', 1200],
    ['12', 'm', 12000],
    ['0', 'mm', 0],
    ['3 INCHES', 'mm', 76.2],
  ];
  it.each(read)('reads %s (bare numbers in %s)', (text, unit, mm) => {
    const parsed = parseLength(text, unit);
    expect(parsed).toHaveProperty('mm');
    if ('mm' in parsed) expect(parsed.mm).toBeCloseTo(mm, 9);
  });

  const refused: [string, RegExp][] = [
    ['', /Nothing was given/],
    ['1,234.5', /cannot be read|two ways/],
    ['1,234', /two ways/],
    ['3//8', /cannot be read/],
    ['3/0 in', /divides by zero/],
    ['NaN', /cannot be read/],
    ['Infinity', /cannot be read/],
    ['1e3', /no unit known/],
    ['9.5 kg', /no unit known/],
    ['9.5.5', /cannot be read|without its unit/],
    ['2 ft 3', /without its unit/],
    ['1 2 in', /without its unit/],
    ['3 in 2 ft', /do not go together/],
    ['3 in 2 in', /do not go together/],
    ['1 m 3 in', /do not go together/],
    ['-3 mm', /negative/],
    ['−3 mm', /negative/],
    ['constructor', /cannot be read/],
    ['1 constructor', /no unit known/],
    ['9.5 mm of plaster', /cannot be read/],
  ];
  it.each(refused)('refuses %j with a sentence', (text, sentence) => {
    const parsed = parseLength(text, 'mm');
    expect(parsed).toHaveProperty('problem');
    if ('problem' in parsed) {
      expect(parsed.problem).toMatch(sentence);
      expect(parsed.problem).toMatch(/\.$/);
    }
  });

  it('takes a negative only where told, and for the whole of a compound', () => {
    expect(parseLength('-3', 'mm', { allowNegative: true })).toEqual({ mm: -3 });
    expect(parseLength('-2 ft 3 in', 'mm', { allowNegative: true })).toEqual({ mm: -(24 + 3) * 25.4 });
    expect(parseLength('-0', 'mm')).toEqual({ mm: 0 });
  });
});

describe('parseMass', () => {
  it('reads grams, kilograms, pounds and ounces', () => {
    expect(parseMass('620', 'g')).toEqual({ g: 620 });
    expect(parseMass('1,2 kg', 'g')).toEqual({ g: 1200 });
    const mixed = parseMass('1 lb 4 oz', 'g');
    // 20 oz x 28.349523125 g.
    if ('g' in mixed) expect(mixed.g).toBeCloseTo(566.9904625, 9);
    else expect.fail(mixed.problem);
  });
  it('refuses lengths and nonsense', () => {
    expect(parseMass('3 in', 'g')).toHaveProperty('problem');
    expect(parseMass('4 oz 1 lb', 'g')).toHaveProperty('problem');
  });
});

describe('formatting', () => {
  it('lengths', () => {
    expect(formatLength(9.5, 'metric')).toBe('9.5 mm');
    expect(formatLength(0.25, 'metric')).toBe('0.25 mm');
    expect(formatLength(412.4, 'metric')).toBe('412 mm');
    expect(formatLength(1180, 'metric')).toBe('1.18 m');
    expect(formatLength(9.525, 'us')).toBe('3/8 in');
    expect(formatLength(2.4, 'us')).toBe('3/32 in');
    expect(formatLength(25.39, 'us')).toBe('1 in');
    expect(formatLength(38.1, 'us')).toBe('1 1/2 in');
    expect(formatLength(685.8, 'us')).toBe('2 ft 3 in');
    expect(formatLength(609.5, 'us')).toBe('24 in');
    expect(formatLength(731.4, 'us')).toBe('2 ft 4 3/4 in');
    expect(formatLength(0.1, 'us')).toBe('0.004 in');
    expect(formatLength(0, 'us')).toBe('0 in');
    expect(formatLength(-0.001, 'metric')).toBe('0.00 mm');
  });
  it('masses', () => {
    expect(formatMass(620.4, 'metric')).toBe('620 g');
    expect(formatMass(3312, 'metric')).toBe('3.31 kg');
    expect(formatMass(20 * G_PER_OUNCE, 'us')).toBe('1 lb 4.0 oz');
    expect(formatMass(2 * G_PER_POUND - 0.5, 'us')).toBe('2 lb 0.0 oz');
    expect(formatMass(100, 'us')).toBe('3.5 oz');
    expect(formatMass(25 * G_PER_POUND, 'us')).toBe('25.0 lb');
  });
  it('areas and volumes', () => {
    expect(formatArea(143_600, 'metric')).toBe('1\u202f436 cm²');
    expect(formatArea(1_520_000, 'metric')).toBe('1.52 m²');
    expect(formatArea(92_903.04, 'us')).toBe('1.00 ft²');
    expect(formatVolume(48_000, 'metric')).toBe('48 ml');
    expect(formatVolume(3_830_000, 'metric')).toBe('3.83 L');
    expect(formatVolume(16_387.064 * 2.5, 'us')).toBe('2.5 in³');
  });
  it('a column keeps to the unit of its smallest amount', () => {
    expect(formatVolume(1_010_400, 'metric', 993_000)).toBe('1\u202f010 ml');
    expect(formatMass(1870, 'metric', 900)).toBe('1\u202f870 g');
    expect(formatArea(92_903.04 * 2, 'us', 60_000)).toBe('288.0 in²');
  });
  it('bounds: same unit as the value beside, never rounded down', () => {
    expect(formatBound(11.1, 3312, 'mass', 'metric')).toBe('± 0.012 kg');
    expect(formatBound(4.3, 3312, 'mass', 'metric')).toBe('± 0.005 kg');
    expect(formatBound(4.3, 3312, 'mass', 'metric', 900)).toBe('± 4.3 g');
    expect(formatBound(20, 3312, 'mass', 'metric')).toBe('± 0.020 kg');
    expect(formatBound(3.01, 620, 'mass', 'metric')).toBe('± 3.1 g');
    expect(formatBound(0, 620, 'mass', 'metric')).toBe('± 0 g');
    for (let i = 1; i < 400; i++) {
      const bound = 0.00173 * 1.06 ** i;
      const printed = formatBound(bound, 50_000, 'volume', 'metric').replace(/[^\d.]/g, '');
      expect(Number(printed) * 1000).toBeGreaterThanOrEqual(bound * (1 - 1e-9));
    }
  });
  it('a printed length reads back to within half a step of what was printed', () => {
    for (let i = 0; i < 300; i++) {
      const mm = 0.5 + i * 7.3;
      const back = parseLength(formatLength(mm, 'us'), 'mm');
      if ('problem' in back) expect.fail(back.problem);
      // Half of 1/32 in below an inch, of 1/16 in below two feet, of 1/8 in above.
      const halfStepMm = (mm < 25.4 ? 25.4 / 32 : mm < 609.6 ? 25.4 / 16 : 25.4 / 8) / 2;
      expect(Math.abs(back.mm - mm)).toBeLessThanOrEqual(halfStepMm + 1e-9);
    }
  });
});
