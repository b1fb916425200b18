import type { BaseIssue, BaseSchema } from 'valibot';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { MarkedArea, PlanDocument } from '../../../src/core/plan/PlanDocument.ts';

type Schema = BaseSchema<unknown, unknown, BaseIssue<unknown>>;

/** The parts that valibot's schemas are made of, as far as these are met in the plan's. */
interface Parts {
  readonly type: string;
  readonly entries?: Readonly<Record<string, Schema>>;
  readonly item?: Schema;
  readonly items?: readonly Schema[];
  readonly options?: readonly (Schema | string)[];
  readonly wrapped?: Schema;
  readonly value?: Schema;
  /** The schema itself, checks, and further schemas. */
  readonly pipe?: readonly { readonly kind: string }[];
}

const AREA: MarkedArea = { name: 'key', radiusMm: 5, dabsMm: [[1, 2, 3]] };

/** A plan that has something at every place where the schema allows something: no list empty, nothing null or 'auto'. */
export function fullPlan(): PlanDocument {
  const plan = newPlan('bust.stl');
  const { material } = plan;
  const [component] = material.components;
  const full = {
    ...material,
    id: 'full',
    uses: material.uses.slice(0, 1),
    hazards: ['gypsum-dust' as const],
    components: material.components.map((one) => ({
      ...one,
      shelfLifeMonths: 12,
      packs: [{ massG: 1000, price: 10 }],
    })),
    additives: [
      {
        name: 'thickener',
        base: component.name,
        leastShare: 0,
        typicalShare: 0.01,
        mostShare: 0.02,
        densityGPerCm3: 1,
        solution: { activeG: 1, waterG: 9 },
        effects: {
          workingMin: [{ doseShare: 0.01, minutes: 10 }],
          partialCureMin: [{ doseShare: 0.01, minutes: 20 }],
          fullCureMin: [{ doseShare: 0.01, minutes: 30 }],
        },
        shelfLifeMonths: 12,
        packs: [{ massG: 1000, price: 10 }],
      },
    ],
    reinforcement: {
      name: 'strand',
      form: 'chopped' as const,
      leastShare: 0,
      typicalShare: 0.02,
      mostShare: 0.1,
      densityGPerCm3: 2.6,
      lengthMm: 12,
      arealGPerM2: 300,
      packs: [{ massG: 1000, price: 10 }],
    },
    times: { ...material.times, latestOvercoatMin: material.times.partialCureMin + 60 },
    mixing: {
      order: [...material.components.map(({ name }) => name), 'thickener'],
      mixMin: 3,
      reinforcementMixS: 30,
    },
    strength: { flexuralMPa: 20, modulusGPa: 10 },
    shellMm: { least: 6, usual: 9, most: 12 },
    lots: [{ lot: 'L1', densityGPerCm3: 2, workingMin: 20, partialCureMin: 40, fullCureMin: 600 }],
    lotInUse: 'L1',
    basis: { airShare: { kind: 'yours' as const, text: 'own' } },
  };
  return {
    ...plan,
    job: { name: 'Bust', shop: 'Shop' },
    scan: {
      ...plan.scan,
      board: 3,
      leave: ['holes-filled'],
      crops: [{ normal: [0, 0, 1], offsetMm: 100 }],
      keepClear: [AREA],
    },
    parting: {
      ...plan.parting,
      pullAzimuthsDeg: [0, 180],
      lines: [
        {
          id: 'l1',
          points: [
            [0, 0, 0],
            [1, 0, 0],
            [1, 1, 0],
          ],
          closed: true,
        },
      ],
      pieces: [{ anchorMm: [0, 0, 0], name: 'Front', pull: [1, 0, 0] }],
      notHere: [AREA],
      blockOut: [[1, 2, 3]],
    },
    coats: [
      {
        name: 'Face',
        kind: 'face',
        thicknessMm: 2,
        systemId: 'other',
        additives: [{ name: 'thickener', doseShare: 0.01 }],
        reinforcementShare: 0.02,
        waitMin: 30,
      },
    ],
    material: full,
    otherMaterials: [{ ...full, id: 'other' }],
    rubber: { ...full, id: 'rubber' },
    filler: { ...full, id: 'filler' },
    bench: { ...plan.bench, mixerMostG: 5000, scales: [{ name: 'Scale', mostG: 5000, stepG: 1 }] },
    supplies: {
      ...plan.supplies,
      shim: { ...plan.supplies.shim, packPrice: 5 },
      release: { ...plan.supplies.release, packs: [{ massG: 500, price: 9 }] },
      fastener: { ...plan.supplies.fastener, packPrice: 5 },
    },
    stock: [{ item: component.name, massG: 100 }],
    day: { ...plan.day, startDate: '2026-12-01', order: ['A'] },
    casting: { ...plan.casting, levelMm: 100, wallMm: 5 },
    lifting: { ...plan.lifting, horizontalMm: 300 },
    log: {
      batches: [
        {
          piece: 'A',
          coat: 0,
          number: 1,
          mixedG: 100,
          leftG: 5,
          layMin: 9,
          at: '2026-12-01T09:30:00+01:00',
        },
      ],
      probes: [{ pointMm: [1, 2, 3], thicknessMm: 8, coatsOn: 1 }],
      closed: [{ piece: 'A', coat: 0 }],
    },
    resolutionMm: 1,
    trowelRadiusMm: 30,
  };
}

/**
 * Every place that the schema knows, as a path in which "*" is any item of a list and any key of a table. Of alternatives all
 * are followed.
 */
export function pathsOfSchema(schema: unknown, path = ''): string[] {
  const { entries, item, items, options, wrapped, value, type, pipe } = schema as Parts;
  const under = (key: string): string => (path === '' ? key : `${path}.${key}`);
  const inside = [
    ...Object.entries(entries ?? {}).flatMap(([key, inner]) => pathsOfSchema(inner, under(key))),
    ...(item === undefined ? [] : pathsOfSchema(item, under('*'))),
    ...(items ?? []).flatMap((inner) => pathsOfSchema(inner, under('*'))),
    ...(options ?? []).flatMap((inner) => (typeof inner === 'object' ? pathsOfSchema(inner, path) : [])),
    ...(wrapped === undefined ? [] : pathsOfSchema(wrapped, path)),
    ...(pipe ?? []).slice(1).flatMap((inner) => (inner.kind === 'schema' ? pathsOfSchema(inner, path) : [])),
    ...(type === 'record' && value !== undefined ? pathsOfSchema(value, under('*')) : []),
  ];
  return [...new Set([path, ...inside])].filter((one) => one !== '');
}

/** Every place of a JSON value, as the list of keys that leads there; the value itself is left out. */
export function placesOf(value: unknown, keys: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    [...keys, key],
    ...placesOf(inner, [...keys, key]),
  ]);
}
