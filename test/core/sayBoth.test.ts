import { expect, it } from 'vitest';
import { sayBoth } from '../../src/core/sayBoth.ts';
import { formatArealMass, formatForce, formatLineLoad, formatPressure } from '../../src/core/units.ts';
import { readSaid } from '../../src/report/readSaid.ts';

it('a sentence is said once for each system, and read back in the one asked for', () => {
  const note = { code: 'x', ...sayBoth('text', (system) => `under ${formatPressure(9414.384, system)}`) };
  expect(note).toEqual({ code: 'x', text: 'under 9.41\u00a0kPa', usText: 'under 1.37\u00a0psi' });
  expect(readSaid(note, 'text', 'metric')).toBe(note.text);
  expect(readSaid(note, 'text', 'us')).toBe(note.usText);
});

it('what has no twin reads the same in both, and an empty twin is no missing one', () => {
  expect(readSaid({ text: 'Close the log.' }, 'text', 'us')).toBe('Close the log.');
  expect(readSaid({ say: 'a', usSay: '' }, 'say', 'us')).toBe('');
});

// From the exact factors of NIST SP 811 and HB 44 by hand: 100 / 4.4482216152605 = 22.4809; 9.414 kPa / 6.894757293168 =
// 1.3654; 1 N/mm = 25.4 N an inch = 5.7101 lbf/in; 450 g/m2 x 0.09290304 m2 / 28.349523125 g = 1.4747 oz/ft2.
it('loads and sheets come out as by hand', () => {
  expect(formatForce(100, 'us')).toBe('22.5\u00a0lbf');
  expect(formatForce(2248.0894, 'us')).toBe('505\u00a0lbf');
  expect(Number.parseFloat(formatForce(100_000, 'us'))).toBe(22481);
  expect(Number.parseFloat(formatPressure(9_414_000, 'us'))).toBe(1365);
  expect(formatLineLoad(1, 'us')).toBe('5.71\u00a0lbf/in');
  expect(formatLineLoad(1, 'metric')).toBe('1.00\u00a0N/mm');
  expect(formatArealMass(450, 'us')).toBe('1.47\u00a0oz/ft²');
  expect(formatArealMass(450, 'metric')).toBe('450\u00a0g/m²');
  // 5 kg/m2 is 1.0241 lb/ft2: 5000 x 0.09290304 / 453.59237.
  expect(formatArealMass(5000, 'us')).toBe('1.02\u00a0lb/ft²');
});
