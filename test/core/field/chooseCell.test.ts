import { expect, test } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { checkCellMm, chooseCellMm, estimateCells } from '../../../src/core/field/chooseCell.ts';

test('the cell follows the thinnest coat on a small body and the budget on a large one', () => {
  expect(chooseCellMm(1.5, 10, 1e5, 12)).toBe(1);
  expect(chooseCellMm(0.8, 10, 1e4, 12)).toBe(0.4);
  const large = chooseCellMm(1.5, 10, 3e6, 12);
  expect(large).toBeGreaterThan(1.5);
  expect(estimateCells(3e6, 12, large)).toBeLessThan(4e6);
});

test('one thick coat does not make coarse cells', () => {
  expect(chooseCellMm(25, 25, 1e5, 28)).toBeLessThan(25 / 6);
});

test('a length that is none is refused', () => {
  for (const cell of [0, -1, Number.NaN, Infinity])
    expect(() => checkCellMm(cell, 1e5, 12)).toThrow(/no length/);
});

test('a finer scan of the same body never gets a coarser cell', () => {
  let last = Infinity;
  for (const area of [3e6, 1e6, 3e5, 1e5, 3e4]) {
    const cell = chooseCellMm(1.5, 10, area, 12);
    expect(cell).toBeLessThanOrEqual(last);
    last = cell;
  }
});

test('the number of cells told before is that of the band', () => {
  // A sphere's band: (4/3) pi ((R + t)^3 - R^3), which the flat estimate meets to t / R.
  const volume = (4 / 3) * Math.PI * (110 ** 3 - 100 ** 3);
  expect(estimateCells(4 * Math.PI * 100 ** 2, 10, 1) / volume).toBeGreaterThan(0.9);
  expect(estimateCells(4 * Math.PI * 100 ** 2, 10, 1) / volume).toBeLessThan(1.3);
});

test('what cannot be held is refused with an edge that can', () => {
  const refusal = (): void => checkCellMm(0.1, 1e6, 12);
  expect(refusal).toThrow(PlanError);
  expect(refusal).toThrow(/Choose (\d+(\.\d+)?) mm or coarser/);
  let message = '';
  try {
    refusal();
  } catch (error) {
    message = (error as PlanError).message;
  }
  const told = Number(/Choose ([\d.]+) mm/.exec(message)?.[1]);
  expect(() => checkCellMm(told, 1e6, 12)).not.toThrow();
});
