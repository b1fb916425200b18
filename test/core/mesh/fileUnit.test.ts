import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { LengthUnit, ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { box } from '../../fixtures/shapes.ts';

/** A box of 30 x 20 x 25 of the file's units. */
const BOX = box(30, 20, 25);

const prepare = (plan: Partial<ScanPlan>, fileUnit?: LengthUnit) =>
  prepareScan(BOX, { ...newPlan('a.glb').scan, up: 'z', ...plan }, [], new Checkpoint(), fileUnit);

describe('the unit that a file names', () => {
  it('holds where the plan leaves it open, and is said: 30 inches are 762 mm', async () => {
    const { report, heightMm } = await prepare({}, 'in');
    expect(report.unit).toBe('in');
    expect(heightMm).toBeCloseTo(25 * 25.4, 9);
    expect(report.warnings).toContainEqual({
      code: 'unit-from-file',
      text: 'The file is in inches: its longest side is 762 mm (30.0 in). Set the unit if this is not so.',
    });
    expect(report.warnings.some(({ code }) => code === 'unit-guessed')).toBe(false);
  });

  it('gives way to the plan, and the factor still counts', async () => {
    const set = await prepare({ unit: 'mm' }, 'm');
    expect(set.report.unit).toBe('mm');
    expect(set.heightMm).toBe(25);
    expect(set.report.warnings.some(({ code }) => code.startsWith('unit'))).toBe(false);
    expect((await prepare({ scale: 0.01 }, 'm')).heightMm).toBeCloseTo(250, 9);
  });

  it('is guessed as before from a file that names none', async () => {
    const { report } = await prepare({});
    expect(report.unit).toBe('mm');
    expect(report.warnings.map(({ code }) => code)).toContain('unit-guessed');
  });
});
