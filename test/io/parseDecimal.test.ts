import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../src/io/parseDecimal.ts';
import { encode } from './sampleFiles.ts';

const parse = (text: string): number => parseDecimal(encode(` ${text} `), 1, 1 + text.length);

// The engine's own Number() is the reference: ECMA-262 asks of it the nearest double.
describe('parseDecimal', () => {
  it('gives exactly the number that was printed', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(number, (value) => {
        for (const text of [String(value), value.toExponential(), value.toPrecision(9)]) {
          expect(Object.is(parse(text), Number(text)), text).toBe(true);
        }
      }),
      { seed: 1, numRuns: 2000 },
    );
  });

  it('agrees with Number on every string of digits, signs, points and exponents, or refuses it too', () => {
    const text = fc.string({ unit: fc.constantFrom(...'0123456789+-.eE'), minLength: 1, maxLength: 24 });
    fc.assert(
      fc.property(text, (tried) => {
        expect(Object.is(parse(tried), Number(tried)), tried).toBe(true);
      }),
      { seed: 2, numRuns: 20000 },
    );
  });

  it.each(['', 'nan', 'inf', 'Infinity', '0x10', '1e', '1e+', '.', '-', '1,5', '1 2', '--1', '1_0'])(
    'refuses "%s"',
    (text) => expect(parse(text)).toBeNaN(),
  );

  it('does not lose itself in long numbers', () => {
    expect(parse(`0.${'3'.repeat(400)}`)).toBe(1 / 3);
    expect(parse(`${'9'.repeat(400)}`)).toBe(Infinity);
    expect(parse(`1e-${'9'.repeat(30)}`)).toBe(0);
    expect(parse('9007199254740993')).toBe(9007199254740992);
  });
});
