import { type Command, Option } from 'commander';
import { Checkpoint } from '../core/checkpoint.ts';
import { runPlan } from '../core/computePlan.ts';
import { drawSides } from '../core/picture/drawSides.ts';
import { printSide } from '../core/picture/printSide.ts';
import { sideSubject } from '../core/picture/sideSubject.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { serialisePlan } from '../core/plan/serialisePlan.ts';
import { type PieceSolids, pieceSolids } from '../core/shell/pieceSolids.ts';
import { shimsOfRun } from '../core/shell/shimsOfRun.ts';
import type { UnitSystem } from '../core/units.ts';
import { batchesCsv } from '../report/batchesCsv.ts';
import { writeCalendar } from '../report/calendar/writeCalendar.ts';
import { plainLine } from '../report/plainLine.ts';
import { renderText } from '../report/renderText.ts';
import { reportPlan } from '../report/reportPlan.ts';
import { buildSheet } from '../report/sheet/buildSheet.ts';
import { FIGURE_WIDTH_PX, figureOf, pictureHref } from '../report/sheet/figureOf.ts';
import { PAPERS, type Paper } from '../report/sheet/pageRules.ts';
import { sheetPage } from '../report/sheet/sheetPage.ts';
import { templatesPage } from '../report/templates/templatesPage.ts';
import { applyOptions } from './applyOptions.ts';
import { expectFolder } from './expectFolder.ts';
import { afterReading } from './NoPlanError.ts';
import { ProgressLine } from './ProgressLine.ts';
import { readFace } from './readFace.ts';
import { readJob, readMesh, type ScanFile } from './readJob.ts';
import { readMaterial } from './readMaterial.ts';
import { readStartDate } from './readStartDate.ts';
import type { Call } from './runCommand.ts';
import { addScanOptions, addShellOptions, type ScanOptions } from './ScanOptions.ts';
import { solidFiles } from './solidFiles.ts';
import { unitsOption } from './unitsOption.ts';
import { type WholeFiles, writeWhole } from './writeWhole.ts';

interface ExportOptions extends ScanOptions {
  readonly out: string;
  readonly units: UnitSystem;
  readonly paper?: Paper;
  readonly start?: string;
  /** False with --no-solids. */
  readonly solids: boolean;
  readonly quiet?: boolean;
}

/** Shares of the progress: reading the file, planning, drawing, solids. */
const READ_END = 0.1;
const PLAN_END = 0.6;
const DRAWN_END = 0.7;

/** A solid off the plan's volume by more than this share is told of. */
const TOLD_SHARE = 0.03;

/** Adds `scute export`, which writes the sheet for the wall and what goes with it. */
export function addExportCommand(program: Command, call: Call): void {
  addShellOptions(
    addScanOptions(
      program
        .command('export')
        .description(
          'the shop sheet for the wall, batches, calendar, figures, plan and the pieces as solids, into a folder',
        )
        .argument(
          '<scan|plan>',
          'a scan (STL, PLY, OBJ, GLB or 3MF), or a saved plan: with its scan (.scute), or the plan alone (.json) with the scan beside it',
        ),
    ),
  )
    .requiredOption('--out <folder>', 'folder to write into; it is made if need be')
    .addOption(unitsOption())
    .addOption(
      new Option('--paper <paper>', 'paper of the sheet; else A4, or Letter with --units us').choices([
        ...PAPERS,
      ]),
    )
    .option('--start <date>', 'first day of the work, like 2026-12-01; else the plan’s own')
    .option('--no-solids', 'leave out the pieces as solids')
    .option('--quiet', 'no progress and no notes on standard error')
    .addHelpText(
      'after',
      '\nWrites sheet.html (to print, or to open in any browser), templates.html (shims, true to size),\nbatches.csv, calendar.ics (when the first day is fixed), result.json, report.txt, plan.scute.json\nand each piece, coats and flange, as a closed solid (piece-A-front.stl ...: binary, millimetres, board at z = 0):\nall of them, or none. Files of these names in the folder are replaced.',
    )
    .action((path: string, options: ExportOptions) => exportJob(call, path, options));
}

async function exportJob(call: Call, path: string, options: ExportOptions): Promise<void> {
  // What can be off is looked at before the long part.
  await expectFolder(options.out);
  const material = options.material === undefined ? undefined : await readMaterial(options.material);
  const startDate = options.start === undefined ? undefined : readStartDate(options.start);
  const job = await readJob(path);
  const plan = startOn(applyOptions(job.plan, options, material), startDate);
  if (job.plan.parting.lines !== 'auto' && plan.parting.lines === 'auto' && options.quiet !== true) {
    call.err.write(
      'scute: note: The plan’s own parting lines are left out, since --pieces or --pull asks for others.\n',
    );
  }
  const line = new ProgressLine(call.err, options.quiet === true);
  let files: WholeFiles;
  let notes: readonly string[];
  try {
    ({ files, notes } = await makeFiles(call, job.scan, plan, options, line));
    call.signal.throwIfAborted();
  } finally {
    line.clear();
  }
  await writeWhole(options.out, files);
  if (plan.day.startDate === null && options.quiet !== true) {
    call.err.write(
      'scute: note: No calendar was written: the plan has no first day. Give one with --start, like --start 2026-12-01.\n',
    );
  }
  if (options.quiet !== true) for (const note of notes) call.err.write(`scute: note: ${plainLine(note)}\n`);
  call.out.write(`${Object.keys(files).join('\n')}\n`);
}

/** All files by name, and what is to be said of them. */
async function makeFiles(
  call: Call,
  scan: ScanFile,
  plan: PlanDocument,
  { units, paper = units === 'us' ? 'letter' : 'a4', solids: wantsSolids }: ExportOptions,
  line: ProgressLine,
): Promise<{ readonly files: WholeFiles; readonly notes: readonly string[] }> {
  const readFrom = performance.now();
  const { mesh, notes, unit } = await readMesh(
    scan,
    new Checkpoint(line.show, call.signal, 0, READ_END, 'reading the file'),
  );
  const run = await afterReading(
    runPlan(plan, mesh, {
      fileNotes: notes,
      ...(unit && { fileUnit: unit }),
      readMs: performance.now() - readFrom,
      progress: (fraction, phase) => line.show(READ_END + (PLAN_END - READ_END) * fraction, phase),
      signal: call.signal,
      ...(call.slabs && { slabs: call.slabs }),
    }),
  );
  const { result } = run;
  const drawing = new Checkpoint(line.show, call.signal, PLAN_END, DRAWN_END, 'drawing the sheet');
  const pictures = (await drawSides(sideSubject(run), FIGURE_WIDTH_PX, drawing)).map(printSide);
  const figures = pictures.map((picture) => figureOf(picture, pictureHref(picture), units));
  const sheet = buildSheet(plan, result, figures, units);
  const { startDate } = plan.day;
  const files = {
    'sheet.html': sheetPage(sheet, paper, await readFace()),
    'templates.html': templatesPage(shimsOfRun(run), {
      paper,
      units,
      job: plan.job.name,
      stripMm: plan.supplies.shim.stripLengthMm,
      overlapMm: plan.supplies.shim.overlapMm,
    }),
    'batches.csv': batchesCsv(plan, result),
    ...(startDate === null
      ? {}
      : { 'calendar.ics': writeCalendar(plan, result, { startDate, nowUtc: new Date(), units }) }),
    'result.json': `${JSON.stringify(result, null, 2)}\n`,
    'report.txt': renderText(reportPlan(plan, result, units)),
    'plan.scute.json': serialisePlan(plan),
  };
  if (!wantsSolids) return { files, notes: [] };
  const making = new Checkpoint(line.show, call.signal, DRAWN_END, 1, 'making the solids');
  const solids = await pieceSolids(run, making);
  return { files: { ...files, ...solidFiles(solids.pieces) }, notes: notesOnSolids(solids) };
}

function notesOnSolids({ pieces, isCoarser, cellMm }: PieceSolids): string[] {
  const notes = isCoarser
    ? [
        `The solids are made on cells of ${cellMm} mm, twice the plan’s own, to keep their files small enough.`,
      ]
    : [];
  for (const { id, name, volumeMm3, plannedMm3 } of pieces) {
    const off = volumeMm3 / plannedMm3 - 1;
    if (Math.abs(off) <= TOLD_SHARE) continue;
    notes.push(
      `The solid of piece ${id} (${name}) holds ${(100 * Math.abs(off)).toFixed(1)} % ${off < 0 ? 'less' : 'more'} than the plan’s volume: along a bent line the flange goes to the piece whose rubber is nearest, and sharp edges are cut off. Mix by the plan.`,
    );
  }
  return notes;
}

function startOn(plan: PlanDocument, startDate: string | undefined): PlanDocument {
  return startDate === undefined ? plan : { ...plan, day: { ...plan.day, startDate } };
}
