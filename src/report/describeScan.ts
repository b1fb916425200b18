import type { ScanReport } from '../core/PlanResult.ts';
import { leavableOf } from '../core/plan/leavableRepairs.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';
import type { ReportSection } from './Report.ts';
import { readSaid } from './readSaid.ts';

/** What the scan is, what was found and what was put right. Size is given both ways, so that a slip of the unit shows. */
export function describeScan(scan: ScanReport, system: UnitSystem): ReportSection {
  const other: UnitSystem = system === 'metric' ? 'us' : 'metric';
  const size = (in_: UnitSystem): string => scan.sizeMm.map((mm) => formatLength(mm, in_)).join(' × ');
  return {
    title: 'Scan',
    facts: [
      { label: 'Size', text: `${size(system)} (${size(other)})` },
      { label: 'Unit', text: scan.unit },
      { label: 'Triangles', text: `${scan.triangles}` },
      { label: 'Separate parts', text: `${scan.components}` },
      {
        label: 'Open edges',
        text: `${scan.openEdges}, in ${scan.openLoops} ${scan.openLoops === 1 ? 'loop' : 'loops'}`,
      },
      { label: 'Non-manifold edges', text: `${scan.nonManifoldEdges}` },
    ],
    tables: [],
    paragraphs: [
      ...scan.warnings.map((note) => ({
        lead: leavableOf(note.code)?.isLeft ? 'Left as it is' : 'Note',
        text: readSaid(note, 'text', system),
      })),
      ...scan.repairs.map((note) => ({ lead: 'Put right', text: readSaid(note, 'text', system) })),
    ],
  };
}
