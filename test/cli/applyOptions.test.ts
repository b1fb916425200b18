import { describe, expect, it } from 'vitest';
import { applyOptions, kindOfCoat } from '../../src/cli/applyOptions.ts';
import { CallError } from '../../src/cli/CallError.ts';
import type { ScanOptions } from '../../src/cli/ScanOptions.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';

const plan = newPlan('bust.stl');
const drawn = {
  ...plan,
  parting: {
    ...plan.parting,
    lines: [{ id: 'l1', points: [[0, 0, 0] as const, [1, 0, 0] as const], closed: false }],
    pieces: [{ anchorMm: [0, 0, 1] as const, name: 'front', pull: null }],
  },
};
const apply = (options: ScanOptions, to = plan) => applyOptions(to, options, undefined);

describe('applyOptions', () => {
  it('leaves the plan as it is without options', () => {
    expect(apply({})).toEqual(plan);
    expect(apply({ flange: true }, drawn)).toEqual(drawn);
  });

  it('lays each option over the plan', () => {
    const { scan } = apply({ unit: 'in', scale: '0.5', up: '-y', board: '-12.5', rubber: '3/8in' });
    expect(scan).toMatchObject({ unit: 'in', scale: 0.5, up: '-y', board: -12.5, is: 'pattern' });
    expect(scan.rubberMm).toBeCloseTo(9.525, 12);
    expect(apply({ board: 'none' }).scan.board).toBe('none');
    expect(apply({ leave: 'holes-filled, crumbs-dropped,holes-filled' }).scan.leave).toEqual([
      'holes-filled',
      'crumbs-dropped',
    ]);
    expect(
      apply({ leave: 'none' }, { ...plan, scan: { ...plan.scan, leave: ['cut-closed'] } }).scan.leave,
    ).toEqual([]);
    expect(apply({ flange: false }).parting.flange).toBeNull();
    expect(apply({ resolution: '0.75' }).resolutionMm).toBe(0.75);
    expect(apply({ pieces: '3', pull: '0,120,-120' }).parting).toMatchObject({
      pieceCount: 3,
      pullAzimuthsDeg: [0, 120, -120],
    });
  });

  it('keeps drawn lines unless other pieces or pulls are asked for', () => {
    expect(apply({ scale: '2' }, drawn).parting.lines).toEqual(drawn.parting.lines);
    expect(apply({ pull: '90' }, drawn).parting).toMatchObject({ lines: 'auto', pieces: [] });
    expect(apply({ pieces: '3' }, drawn).parting).toMatchObject({ lines: 'auto', pieces: [] });
  });

  it('thins or thickens coats alike, or takes them one by one', () => {
    const thick = apply({ thickness: '19mm' }).coats;
    // 19 mm is twice the default 9.5 mm.
    expect(thick.map((coat) => coat.thicknessMm)).toEqual([3, 5, 7, 4]);
    expect(thick.map((coat) => coat.kind)).toEqual(['face', 'build', 'reinforced', 'finish']);
    const four = apply({ coats: '1mm,2mm,1/8in,2mm' }).coats;
    expect(four.map((coat) => coat.name)).toEqual(plan.coats.map((coat) => coat.name));
    expect(four[2].thicknessMm).toBeCloseTo(3.175, 12);
    const two = apply({ coats: '2mm,6mm' }).coats;
    expect(two.map((coat) => [coat.kind, coat.thicknessMm])).toEqual([
      ['face', 2],
      ['reinforced', 6],
    ]);
  });

  it('a lone coat carries fibre; a finish coat comes last from three on', () => {
    const kinds = (count: number): string[] => Array.from({ length: count }, (_, n) => kindOfCoat(n, count));
    expect(kinds(1)).toEqual(['reinforced']);
    expect(kinds(3)).toEqual(['face', 'reinforced', 'finish']);
    expect(kinds(4)).toEqual(['face', 'build', 'reinforced', 'finish']);
    expect(kinds(5)).toEqual(['face', 'build', 'reinforced', 'reinforced', 'finish']);
  });

  const wrong: [ScanOptions, RegExp][] = [
    [{ scale: '0' }, /^--scale is 0, less than the least/],
    [{ scale: 'big' }, /^--scale: “big” is not a number/],
    [{ scale: '' }, /^--scale/],
    [{ scale: '0x10' }, /^--scale/],
    [{ leave: 'faces-turned' }, /^--leave: “faces-turned” is no repair .* crumbs-dropped, flakes-dropped/],
    [{ leave: '' }, /^--leave: “” is no repair/],
    [{ board: 'floor' }, /^--board takes auto, none or a height/],
    [{ rubber: '-3mm' }, /^--rubber: .*negative/],
    [{ rubber: '9 m' }, /^--rubber is 9000, more than/],
    [{ thickness: '0' }, /^--thickness is 0; it must be greater than 0/],
    [{ coats: '1,,2' }, /^--coats: Nothing was given/],
    [{ coats: '1,two' }, /^--coats: /],
    [{ pieces: '2.5' }, /^--pieces is not a whole number/],
    [{ pieces: '99' }, /^--pieces is 99, more than/],
    [{ pull: '0,x' }, /^--pull: “x”/],
    [{ pull: '1000' }, /^--pull is 1000, more than/],
    [{ resolution: '0' }, /^--resolution is 0, less than/],
  ];
  it.each(wrong)('%j is refused by the option’s name', (options, sentence) => {
    let caught: unknown;
    try {
      apply(options);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(CallError);
    if (caught instanceof CallError) expect(caught.message).toMatch(sentence);
  });
});
