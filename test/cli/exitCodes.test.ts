import { CommanderError } from 'commander';
import { expect, it } from 'vitest';
import { CallError } from '../../src/cli/CallError.ts';
import { describeFailure } from '../../src/cli/exitCodes.ts';
import { afterReading } from '../../src/cli/NoPlanError.ts';
import { MeshError, PlanError } from '../../src/core/errors.ts';

it('each way to fail has its code and one sentence, never a stack', async () => {
  const late = await afterReading(Promise.reject(new MeshError('degenerate', 'Flat.'))).catch(
    (error) => error,
  );
  const cases: [unknown, number, string][] = [
    [new CallError('Off.'), 2, 'Off.'],
    [new MeshError('truncated', 'Cut short at byte 9.', { byte: 9 }), 3, 'Cut short at byte 9.'],
    [new PlanError('bad-line', 'Parts nothing.'), 4, 'Parts nothing.'],
    [late, 4, 'Flat.'],
    [new CommanderError(0, 'commander.helpDisplayed', ''), 0, ''],
    [new CommanderError(1, 'commander.unknownOption', 'written already'), 2, ''],
    [new DOMException('stop', 'AbortError'), 130, 'Cancelled; nothing was written.'],
  ];
  for (const [error, code, text] of cases) expect(describeFailure(error)).toEqual({ code, text });
  const defect = describeFailure(new TypeError('x is not a function'));
  expect(defect.code).toBe(1);
  expect(defect.text).toContain('x is not a function');
  expect(defect.text).not.toMatch(/\n|\bat \//);
});
