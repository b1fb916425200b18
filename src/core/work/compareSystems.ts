import type { MaterialSystem } from '../material/MaterialSystem.ts';
import type { ShoppingItem, SystemComparison } from '../PlanResult.ts';
import type { CoatPlan, PlanDocument } from '../plan/PlanDocument.ts';
import { totalThicknessMm } from '../plan/totalThicknessMm.ts';
import type { PlanWork } from './planWork.ts';
import type { WorkGround } from './WorkGround.ts';

/** What of a compared plan's notes says that its numbers are not the whole story. */
const TELLING_NOTES: ReadonlySet<string> = new Set([
  'no-time-to-lay',
  'bucket-too-small',
  'ratio-off',
  'window-missed',
  'day-too-short',
  'dose-unknown',
]);

const MIXED_KINDS: ReadonlySet<ShoppingItem['kind']> = new Set(['component', 'additive', 'reinforcement']);

/**
 * This very shell in other systems: the plan's own first, then the candidates that shells are made of, in their order.
 * Each candidate at the thickness that is usual for it (its `shellMm`, else the plan's own), the coats scaled to that,
 * all of the one system. Additives that it knows by the same name stay, at their dose where it is within its limits, at
 * its typical one where not; others go. Reinforced coats take its typical share, waits are its own. All are planned as
 * if begun anew with nothing in stock, so that what is paid and what it takes can be compared; the plan's own cost may
 * therefore be higher than the one to pay today. A row has no cost as long as anything that its shell is mixed from has
 * no price.
 *
 * @param groundFor amounts for a shell of that thickness, mm.
 * Cost: one `planWork` a row.
 */
export function compareSystems(
  plan: PlanDocument,
  candidates: readonly MaterialSystem[],
  groundFor: (thicknessMm: number) => WorkGround,
  planWork: PlanWork,
): SystemComparison[] {
  const ownMm = totalThicknessMm(plan.coats);
  const afresh = { ...plan, stock: [], log: { batches: [], probes: [], closed: [] } };
  const compare = (as: PlanDocument, isChosen: boolean): SystemComparison => {
    const thicknessMm = totalThicknessMm(as.coats);
    const { coatWork, batches, shopping, schedule, day, cost, workNotes } = planWork(
      as,
      groundFor(thicknessMm),
    );
    const dryByPieceG = new Map<string, number>();
    let volumeMm3 = 0;
    let massG = 0;
    let dryMassG = 0;
    for (const coat of coatWork) {
      volumeMm3 += coat.volumeMm3;
      massG += coat.massG;
      dryMassG += coat.dryMassG;
      dryByPieceG.set(coat.piece, (dryByPieceG.get(coat.piece) ?? 0) + coat.dryMassG);
    }
    return {
      systemId: as.material.id,
      name: as.material.name,
      thicknessMm,
      volumeMm3,
      massG,
      dryMassG,
      heaviestG: Math.max(0, ...dryByPieceG.values()),
      cost: isMixPriced(shopping) ? cost.total : null,
      unpriced: cost.unpriced,
      elapsedMin:
        schedule.length === 0
          ? 0
          : Math.max(...schedule.map((task) => task.endMin)) -
            Math.min(...schedule.map((task) => task.startMin)),
      attendedMin: day.attendedMin,
      batches: batches.length,
      isChosen,
      notes: workNotes.filter((note) => TELLING_NOTES.has(note.code)),
    };
  };
  const others = candidates.filter(
    (system) => system.id !== plan.material.id && system.uses.includes('shell'),
  );
  return [
    compare(afresh, true),
    ...others.map((system) => compare(inSystem(afresh, system, system.shellMm?.usual ?? ownMm), false)),
  ];
}

/**
 * Whether all that the shell is mixed from has a price: without, a total of shims and bolts would look like a cheap
 * shell.
 */
function isMixPriced(shopping: readonly ShoppingItem[]): boolean {
  return shopping.every(({ kind, cost }) => cost !== null || !MIXED_KINDS.has(kind));
}

/** The plan with its shell in another system, `thicknessMm` in all. */
function inSystem(plan: PlanDocument, system: MaterialSystem, thicknessMm: number): PlanDocument {
  const scale = thicknessMm / totalThicknessMm(plan.coats);
  const coats = plan.coats.map((coat): CoatPlan => {
    const additives = coat.additives.flatMap(({ name, doseShare }) => {
      const known = system.additives.find((additive) => additive.name === name);
      if (known === undefined) return [];
      const isWithin = doseShare >= known.leastShare && doseShare <= known.mostShare;
      return [{ name, doseShare: isWithin ? doseShare : known.typicalShare }];
    });
    return {
      ...coat,
      thicknessMm: coat.thicknessMm * scale,
      systemId: null,
      additives,
      reinforcementShare: null,
      waitMin: null,
    };
  });
  return { ...plan, material: system, otherMaterials: [], coats };
}
