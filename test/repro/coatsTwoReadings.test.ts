import { expect, it } from 'vitest';
import { applyOptions } from '../../src/cli/applyOptions.ts';
import { CallError } from '../../src/cli/CallError.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';

// “9,5” was planned as two coats of 9 and 5 mm without a word; issue 4: understood or refused, never misread.
const apply = (coats: string) => applyOptions(newPlan('bust.stl'), { coats }, undefined).coats;

it.each(['9,5', '9,5mm', '9,5 mm,3mm', '3mm,9,5 in', '1,250', ' 1, 5 ,2,5'])(
  'refuses --coats “%s”, which can be read in two ways',
  (coats) => {
    expect(() => apply(coats)).toThrow(CallError);
    expect(() => apply(coats)).toThrow(/two ways.*with its unit/);
  },
);

it.each([
  ['4,5.5', [4, 5.5]],
  ['9mm,5mm', [9, 5]],
  ['1, 2.5 ,3.5,2.0', [1, 2.5, 3.5, 2]],
  ['9mm,5', [9, 5]],
  ['9', [9]],
])('takes --coats “%s”', (coats, thicknessesMm) => {
  expect(apply(coats).map((coat) => coat.thicknessMm)).toEqual(thicknessesMm);
});

it('names no length that nobody typed when --thickness is out of range', () => {
  const thick = () => applyOptions(newPlan('bust.stl'), { thickness: '5 m' }, undefined);
  expect(thick).toThrow(
    /^--thickness: shared out over the plan’s coats, the thickness of one is .* more than/,
  );
});
