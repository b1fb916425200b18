import type { BatchResult, PlanResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';

const MM2_PER_CM2 = 100;

/** Beginnings that a spreadsheet would take for a formula, blanks before them passed over as some do. */
const FORMULA_START = /^\s*[=+\-@]|^[\t\r\n]/;

/**
 * The batches as a table for a spreadsheet, RFC 4180: one line a batch in the order of the work, one column for each
 * component, additive and reinforcement of the job, grams as weighed, decimals with a point, lines ended by CR LF. The
 * last columns are for the shop: the true weight (filled in where the log has it) and what was left in the bucket. A
 * text that begins as a formula has an apostrophe before it, so that a name typed in a plan is never run.
 */
export function batchesCsv(plan: PlanDocument, result: PlanResult): string {
  const parts = namesInOrder(result.batches);
  const header = [
    'Piece',
    'Coat number',
    'Coat',
    'Batch',
    'Of',
    ...parts.map((name) => `${name} (g)`),
    'Mixed (g)',
    'For the wall (g)',
    'In the bucket (ml)',
    'Area (cm2)',
    'Working time (min)',
    'Mixing (min)',
    'Laying up (min)',
    'Off the ratio (%)',
    'True weight (g)',
    'Left in the bucket (g)',
  ];
  const lines = result.batches.map((batch) => {
    const logged = plan.log.batches.find(
      (one) => one.piece === batch.piece && one.coat === batch.coatNumber && one.number === batch.number,
    );
    const piece = result.pieces.find((one) => one.id === batch.piece)?.name ?? batch.piece;
    return [
      piece,
      batch.coatNumber + 1,
      batch.coat,
      batch.number,
      batch.of,
      ...parts.map((name) => batch.componentsG[name] ?? ''),
      batch.mixedG,
      rounded(batch.laidG, 1),
      rounded(batch.volumeMl, 0),
      rounded(batch.areaMm2 / MM2_PER_CM2, 0),
      rounded(batch.workingTimeMin, 1),
      rounded(batch.mixMin, 1),
      rounded(batch.layMin, 1),
      rounded(batch.ratioOff * 100, 2),
      batch.loggedG ?? '',
      logged?.leftG ?? '',
    ];
  });
  return [header, ...lines].map((cells) => `${cells.map(csvCell).join(',')}\r\n`).join('');
}

/** Names of all that is weighed, in the order in which it first goes into a bucket. */
function namesInOrder(batches: readonly BatchResult[]): string[] {
  const names = new Set<string>();
  for (const batch of batches) for (const step of batch.steps) names.add(step.item);
  return [...names];
}

function csvCell(value: string | number): string {
  if (typeof value === 'number') return String(value);
  const safe = FORMULA_START.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
