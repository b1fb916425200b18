import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { BUILT_IN_MATERIALS, DEFAULT_MATERIAL } from '../../../src/core/material/builtInMaterials.ts';
import { MATERIAL_FORMAT } from '../../../src/core/material/checkMaterialFile.ts';
import { parseMaterial } from '../../../src/core/material/parseMaterial.ts';
import { serialiseMaterial } from '../../../src/core/material/serialiseMaterial.ts';

const file = { schema: MATERIAL_FORMAT, ...DEFAULT_MATERIAL };
const [powder, liquid] = DEFAULT_MATERIAL.components;
const [thickener, accelerator] = DEFAULT_MATERIAL.additives;
const point = (doseShare: number, minutes: number) => ({ doseShare, minutes });

function refusal(json: unknown): PlanError {
  try {
    parseMaterial(json);
  } catch (error) {
    if (error instanceof PlanError) return error;
    throw error;
  }
  throw new Error('was taken');
}

function withEffect(points: readonly { doseShare: number; minutes: number }[]): unknown {
  return {
    ...file,
    additives: [thickener, { ...accelerator, effects: { ...accelerator.effects, workingMin: points } }],
  };
}

describe('a material file', () => {
  it.each(BUILT_IN_MATERIALS.map((system) => [system.id, system] as const))(
    '%s is written and read back equal',
    (_id, system) => {
      expect(parseMaterial(JSON.parse(serialiseMaterial(system)))).toEqual(system);
    },
  );

  const wrong: readonly (readonly [what: string, json: unknown, field: string | undefined, says: RegExp])[] =
    [
      ['nothing', null, undefined, /not a table/],
      ['a list', [], undefined, /not a table/],
      ['a later format', { ...file, schema: 'scute-material/3' }, 'schema', /later version/],
      ['no format', DEFAULT_MATERIAL, 'schema', /“schema” is not/],
      [
        'a part of zero',
        { ...file, components: [powder, { ...liquid, parts: 0 }] },
        'components.1.parts',
        /is 0; it must be greater than 0/,
      ],
      [
        'a part below zero',
        { ...file, components: [{ ...powder, parts: -2 }, liquid] },
        'components.0.parts',
        /is -2; it must be greater/,
      ],
      [
        'a part that is no number',
        { ...file, components: [{ ...powder, parts: Number.NaN }, liquid] },
        'components.0.parts',
        /not a number/,
      ],
      [
        'a part without bound',
        { ...file, components: [{ ...powder, parts: Infinity }, liquid] },
        'components.0.parts',
        /not a finite number/,
      ],
      [
        'a ratio as text',
        { ...file, components: [{ ...powder, parts: '2.5' }, liquid] },
        'components.0.parts',
        /not a number/,
      ],
      [
        'a density in kg/m3',
        { ...file, components: [{ ...powder, densityGPerCm3: 2700 }, liquid] },
        'components.0.densityGPerCm3',
        /2700, more than/,
      ],
      ['no component', { ...file, components: [] }, 'components', /at least one component/],
      [
        'a component twice',
        { ...file, components: [powder, liquid, powder] },
        'components.2.name',
        /“powder”, which is named twice/,
      ],
      [
        'an additive named as a component',
        { ...file, additives: [{ ...thickener, name: 'liquid' }, accelerator] },
        'additives.0.name',
        /“liquid”, which is named twice/,
      ],
      [
        'fibre named as an additive',
        { ...file, reinforcement: { ...DEFAULT_MATERIAL.reinforcement, name: 'thickener' } },
        'reinforcement.name',
        /named twice/,
      ],
      [
        'a name with a dot',
        { ...file, components: [powder, { ...liquid, name: 'part 2.1' }] },
        'components.1.name',
        /has a dot/,
      ],
      [
        'a name that is a key',
        { ...file, components: [powder, { ...liquid, name: 'times' }] },
        'components.1.name',
        /kept for the system/,
      ],
      [
        'a name that every object has',
        { ...file, components: [powder, { ...liquid, name: '__proto__' }] },
        'components.1.name',
        /kept for the system/,
      ],
      [
        'a base that is no component',
        { ...file, additives: [{ ...thickener, base: 'water' }, accelerator] },
        'additives.0.base',
        /“water”, which is none of mix, powder, liquid/,
      ],
      [
        'a typical dose over the most',
        { ...file, additives: [{ ...thickener, typicalShare: 0.03 }, accelerator] },
        'additives.0.typicalShare',
        /is 0.03, not from leastShare 0.005 to mostShare 0.025/,
      ],
      [
        'a least dose over the typical',
        { ...file, additives: [{ ...thickener, leastShare: 0.021 }, accelerator] },
        'additives.0.typicalShare',
        /is 0.02, not from/,
      ],
      [
        'per cent for a share',
        { ...file, additives: [{ ...thickener, mostShare: 2.5 }, accelerator] },
        'additives.0.mostShare',
        /is 2.5, more than/,
      ],
      [
        'a solution without water',
        { ...file, additives: [thickener, { ...accelerator, solution: { activeG: 40, waterG: 0 } }] },
        'additives.1.solution.waterG',
        /greater than 0/,
      ],
      [
        'points out of order',
        withEffect([point(0.05, 7), point(0.02, 12)]),
        'additives.1.effects.workingMin',
        /smallest dose first/,
      ],
      [
        'two points of one dose',
        withEffect([point(0.05, 7), point(0.05, 8)]),
        'additives.1.effects.workingMin',
        /two points of one dose/,
      ],
      [
        'a point of no minutes',
        withEffect([point(0.05, 0)]),
        'additives.1.effects.workingMin.0.minutes',
        /greater than 0/,
      ],
      [
        'an order with a stranger',
        { ...file, mixing: { ...file.mixing, order: ['liquid', 'powder', 'salt'] } },
        'mixing.order.2',
        /“salt”, which is no component or additive/,
      ],
      [
        'an order with one twice',
        { ...file, mixing: { ...file.mixing, order: ['liquid', 'powder', 'liquid'] } },
        'mixing.order.2',
        /twice/,
      ],
      [
        'an order that forgets one',
        { ...file, mixing: { ...file.mixing, order: ['liquid'] } },
        'mixing.order',
        /does not say when “powder” goes in/,
      ],
      [
        'an overcoat window that never opens',
        { ...file, times: { ...file.times, latestOvercoatMin: 20 } },
        'times.latestOvercoatMin',
        /is 20, before the partial cure of 30/,
      ],
      [
        'a lot in use that is not there',
        { ...file, lotInUse: 'L7' },
        'lotInUse',
        /“L7”, which is none of the lots/,
      ],
      [
        'a shell thinner than its least',
        { ...file, shellMm: { least: 5, usual: 4, most: 9 } },
        'shellMm.usual',
        /is 4, not from 5 to 9/,
      ],
      [
        'a basis of no kind',
        { ...file, basis: { times: { kind: 'guess', text: 'mine' } } },
        'basis.times.kind',
        /none of published/,
      ],
      [
        'a basis without words',
        { ...file, basis: { times: { kind: 'yours', text: '' } } },
        'basis.times.text',
        /say where the value comes from/,
      ],
      ['an unknown key', { ...file, colour: 'white' }, 'colour', /no key that is known/],
      ['a missing key', { ...file, times: undefined }, 'times', /./],
      ['an id with capitals', { ...file, id: 'No Such' }, 'id', /not an id/],
      ['an unknown hazard', { ...file, hazards: ['ghosts'] }, 'hazards.0', /none of gypsum-dust/],
      ['no use', { ...file, uses: [] }, 'uses', /say what the system is for/],
    ];
  it.each(wrong)('is refused by field: %s', (_what, json, field, says) => {
    const error = refusal(json);
    expect(error.code).toBe('bad-material');
    expect(error.message).toMatch(says);
    expect(error.field).toBe(field);
    if (field !== undefined) expect(error.message).toContain('“');
  });
});
