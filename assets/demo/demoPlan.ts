import type { MaterialSystem, Pack } from '../../src/core/material/MaterialSystem.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { CoatPlan, PlanDocument } from '../../src/core/plan/PlanDocument.ts';

/** All prices, doses and the stock of the scenario. */
const INVENTED = { kind: 'yours', text: 'invented for the demo' } as const;

/** Mass in g and price in euros of what the shop buys each thing in. */
const PACKS: Readonly<Record<string, readonly Pack[]>> = {
  powder: packs([5000, 11.4], [25_000, 39.5]),
  liquid: packs([1000, 9.2], [5000, 38]),
  thickener: packs([100, 7.5]),
  accelerator: packs([250, 4.8]),
  'chopped glass': packs([500, 6.9]),
  rubber: packs([1000, 24], [5000, 98]),
};

/** The filler's two parts come in small jars. */
const FILLER_PACKS = packs([500, 16]);

const THICKENER_SHARE = 0.02;

/** The scenario: a made-up shop at a made-up quay moulds the carp for a courtyard fountain, to be cast four times in fine concrete. */
export function demoPlan(): PlanDocument {
  const plan = newPlan('fountain-fish.ply');
  const { supplies } = plan;
  return {
    ...plan,
    job: { name: 'Leaping carp, courtyard fountain', shop: 'Heron Quay mould loft' },
    scan: { ...plan.scan, unit: 'mm', up: 'z' },
    // The fish bends in the plane of x and z, so its two halves come off along y.
    parting: { ...plan.parting, pullAzimuthsDeg: [270] },
    coats: plan.coats.map(thickened),
    material: withTrials(withPacks(plan.material)),
    rubber: { ...plan.rubber, components: plan.rubber.components.map(priced) },
    filler: {
      ...plan.filler,
      components: plan.filler.components.map((part) => ({ ...part, packs: FILLER_PACKS })),
    },
    supplies: {
      ...supplies,
      currency: 'EUR',
      shim: { ...supplies.shim, packPrice: 8.9 },
      release: { ...supplies.release, packs: packs([250, 6.4]) },
      fastener: { ...supplies.fastener, packPrice: 7.2 },
    },
    stock: [
      { item: 'powder', massG: 1800 },
      { item: 'liquid', massG: 900 },
    ],
    casting: { ...plan.casting, densityGPerCm3: 2.3 },
  };
}

function packs(...list: readonly (readonly [massG: number, price: number])[]): Pack[] {
  return list.map(([massG, price]) => ({ massG, price }));
}

/** All but the reinforced coat hang on an upright face only when thickened. */
function thickened(coat: CoatPlan): CoatPlan {
  if (coat.kind === 'reinforced') return coat;
  return { ...coat, additives: [{ name: 'thickener', doseShare: THICKENER_SHARE }] };
}

function priced<T extends { readonly name: string; readonly packs: readonly Pack[] }>(thing: T): T {
  return { ...thing, packs: PACKS[thing.name] ?? thing.packs };
}

function withPacks(material: MaterialSystem): MaterialSystem {
  return {
    ...material,
    components: material.components.map(priced),
    additives: material.additives.map(priced),
    reinforcement: material.reinforcement && priced(material.reinforcement),
    basis: {
      ...material.basis,
      'powder.packs': INVENTED,
      'liquid.packs': INVENTED,
      'thickener.packs': INVENTED,
      'accelerator.packs': INVENTED,
      'chopped glass.packs': INVENTED,
    },
  };
}

/** What the shop timed and weighed: the thickener slows the mix, and every batch leaves something in its bucket. */
function withTrials(material: MaterialSystem): MaterialSystem {
  const slower = (from: number, to: number): { doseShare: number; minutes: number }[] => [
    { doseShare: 0, minutes: from },
    { doseShare: 0.025, minutes: to },
  ];
  return {
    ...material,
    additives: material.additives.map((additive) =>
      additive.name === 'thickener'
        ? {
            ...additive,
            effects: {
              workingMin: slower(15, 18),
              partialCureMin: slower(30, 40),
              fullCureMin: slower(60, 75),
            },
          }
        : additive,
    ),
    lossPerBatchG: 15,
    basis: {
      ...material.basis,
      lossPerBatchG: { kind: 'yours', text: 'invented for the demo: the bucket weighed after six batches' },
      'thickener.effects': { kind: 'yours', text: 'invented for the demo: timed on two buckets' },
    },
  };
}
