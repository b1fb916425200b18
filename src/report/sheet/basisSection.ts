import { basisOf } from '../../core/material/basisOf.ts';
import { coatSystem } from '../../core/material/coatMix.ts';
import type { MaterialSystem } from '../../core/material/MaterialSystem.ts';
import { sayBasis } from '../../core/material/sayBasis.ts';
import { sayShare } from '../../core/material/sayShare.ts';
import type { PlanResult } from '../../core/PlanResult.ts';
import { leavableOf } from '../../core/plan/leavableRepairs.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatLength, type UnitSystem } from '../../core/units.ts';
import { readSaid } from '../readSaid.ts';
import { sayMinutes } from '../sayClock.ts';
import type { SheetSection, SheetTable } from './Sheet.ts';
import { column, line, row, table } from './sheetParts.ts';

/** What the figures rest on: the systems' key values, each with where it comes from, and what the bound covers. */
export function basisSection(plan: PlanDocument, result: PlanResult, system: UnitSystem): SheetSection {
  const used = new Map<string, MaterialSystem>();
  for (const coat of plan.coats) {
    const material = coatSystem(plan, coat);
    used.set(material.id, material);
  }
  return {
    id: 'basis',
    title: 'What the figures rest on',
    parts: [
      {
        kind: 'lines',
        lines: [
          line(
            `The ± is a bound on the arithmetic for the scan as read and mended, worked out in cells of ${formatLength(result.resolutionMm, system)}; how evenly the coats are laid is not in it.`,
          ),
          ...result.scan.repairs.map((note) => line(readSaid(note, 'text', system), 'Mended in the scan')),
          ...result.scan.warnings
            .filter(({ code }) => leavableOf(code)?.isLeft)
            .map((note) => line(readSaid(note, 'text', system), 'Left as it is in the scan')),
        ],
      },
      ...[...used.values()].map((material) => systemTable(plan, material)),
    ],
  };
}

function systemTable(plan: PlanDocument, material: MaterialSystem): SheetTable {
  const doses = new Map<string, number[]>();
  for (const coat of plan.coats) {
    if (coatSystem(plan, coat) !== material) continue;
    for (const { name, doseShare } of coat.additives)
      doses.set(name, [...(doses.get(name) ?? []), doseShare]);
  }
  const facts: (readonly [string, string, string])[] = [
    [
      `Parts by ${material.partsBy}`,
      material.components.map((component) => `${component.name} ${plain(component.parts)}`).join(' : '),
      `${material.components[0].name}.parts`,
    ],
    ...material.components.map(
      (component) =>
        [
          `Density of ${component.name}`,
          `${plain(component.densityGPerCm3)} g/cm³`,
          `${component.name}.densityGPerCm3`,
        ] as const,
    ),
    ...[...doses].map(
      ([name, shares]) => [`Dose of ${name}`, [...new Set(shares)].map(sayShare).join(', '), name] as const,
    ),
    ...(material.reinforcement === null
      ? []
      : [
          [
            material.reinforcement.name,
            `${sayShare(material.reinforcement.typicalShare)} usual`,
            'reinforcement.typicalShare',
          ] as const,
        ]),
    ['Sets in, plain', sayMinutes(material.times.workingMin), 'times.workingMin'],
    ['Next coat after, plain', sayMinutes(material.times.partialCureMin), 'times.partialCureMin'],
    ['Full cure, plain', sayMinutes(material.times.fullCureMin), 'times.fullCureMin'],
    ['Air in it', sayShare(material.airShare), 'airShare'],
    ['Lost', `${sayShare(material.lossShare)}, and ${plain(material.lossPerBatchG)} g a batch`, 'lossShare'],
  ];
  const lot = material.lotInUse === null ? '' : `, lot ${material.lotInUse}`;
  return table(
    [column('Value'), column('Taken'), column('Where it comes from')],
    facts.map(([what, value, path]) => {
      const basis = basisOf(material, path);
      return row([what, value, basis === null ? 'nothing is said of it' : sayBasis(basis)]);
    }),
    { caption: `${material.name}${lot}` },
  );
}

function plain(value: number): string {
  return String(Number(value.toPrecision(4)));
}
