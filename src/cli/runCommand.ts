import { Command } from 'commander';
import { Checkpoint } from '../core/checkpoint.ts';
import { computePlan } from '../core/computePlan.ts';
import type { SlabRunner } from '../core/field/slabs/SlabRunner.ts';
import { prepareScan } from '../core/mesh/prepareScan.ts';
import { withCrossings } from '../core/mesh/withCrossings.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { SurfaceContext } from '../core/parting/SurfaceContext.ts';
import { suggestPartings } from '../core/parting/suggest/suggestPartings.ts';
import { takeSuggestion } from '../core/parting/suggest/takeSuggestion.ts';
import { serialisePlan } from '../core/plan/serialisePlan.ts';
import type { UnitSystem } from '../core/units.ts';
import { plainLine } from '../report/plainLine.ts';
import type { Report } from '../report/Report.ts';
import { renderText } from '../report/renderText.ts';
import { reportCheck } from '../report/reportCheck.ts';
import { reportPlan } from '../report/reportPlan.ts';
import { reportSuggestions } from '../report/reportSuggestions.ts';
import { applyOptions } from './applyOptions.ts';
import { describeFailure, EXIT } from './exitCodes.ts';
import { expectFolder } from './expectFolder.ts';
import { addExportCommand } from './exportCommand.ts';
import { afterReading } from './NoPlanError.ts';
import { ProgressLine } from './ProgressLine.ts';
import { readJob, readMesh } from './readJob.ts';
import { readMaterial } from './readMaterial.ts';
import { readPieceCounts } from './readPieceCounts.ts';
import { addScanOptions, addShellOptions, type ScanOptions } from './ScanOptions.ts';
import { unitsOption } from './unitsOption.ts';
import { writeWhole } from './writeWhole.ts';

interface OutputOptions {
  /** Of the tables; the JSON keeps to millimetres and grams. */
  readonly units: UnitSystem;
  readonly json?: boolean;
  readonly out?: string;
  readonly quiet?: boolean;
}

interface SuggestOptions extends Pick<ScanOptions, 'unit' | 'scale' | 'up' | 'board' | 'leave'> {
  readonly pieces: string;
}

/** Share of the progress that reading the file takes. */
const READ_SHARE = 0.1;

/** Where a call's words go and what cancels it; the process's own streams, or a test's. */
export interface Call {
  readonly out: { write(text: string): unknown };
  readonly err: { write(text: string): unknown; readonly isTTY?: boolean };
  readonly signal: AbortSignal;
  /** More hands for large fields; without them the same answer takes longer. */
  readonly slabs?: SlabRunner;
}

/** Answers one call of the command; `args` are the words after the command's own name. Returns the exit code, never throws. */
export async function runCommand(args: readonly string[], call: Call): Promise<number> {
  try {
    await buildProgram(call).parseAsync([...args], { from: 'user' });
    return EXIT.answered;
  } catch (error) {
    const failure = describeFailure(error);
    if (failure.text !== '') call.err.write(`scute: ${plainLine(failure.text)}\n`);
    return failure.code;
  }
}

function buildProgram(call: Call): Command {
  const program = new Command('scute')
    .description('Plans the rigid support shell over a brush-on rubber mould, from one scan.')
    .exitOverride()
    .configureOutput({
      writeOut: (text) => call.out.write(text),
      // It repeats words of the call; its own lines stay lines.
      writeErr: (text) => call.err.write(text.split('\n').map(plainLine).join('\n')),
    })
    .addHelpText(
      'after',
      '\nExit codes: 0 answered; 2 the call’s words are off; 3 the file can’t be read as a mesh; 4 read, but no plan can be made of it.',
    );

  addOutputOptions(
    addShellOptions(
      addScanOptions(
        program
          .command('plan')
          .description('the whole plan: tables for people, or --json')
          .argument(
            '<scan|plan>',
            'a scan (STL, PLY, OBJ, GLB or 3MF), or a saved plan: with its scan (.scute), or the plan alone (.json) with the scan beside it',
          ),
      ),
    ),
    'write result.json and report.txt into this folder',
  )
    .addHelpText(
      'after',
      '\nLengths are typed freely: 9.5mm, 3/8in, "1 1/2 in". Each option stands before what the plan document says.',
    )
    .action((path: string, options: ScanOptions & OutputOptions) => planCommand(call, path, options));

  addOutputOptions(
    addScanOptions(
      program
        .command('check')
        .description('what the scan is: unit, size, defects, and what would be put right')
        .argument(
          '<scan|plan>',
          'a scan (STL, PLY, OBJ, GLB or 3MF), or a saved plan: with its scan (.scute), or the plan alone (.json) with the scan beside it',
        ),
    ),
    'write check.json and report.txt into this folder',
  ).action((path: string, options: ScanOptions & OutputOptions) => checkCommand(call, path, options));

  addOutputOptions(
    addScanOptions(
      program
        .command('suggest')
        .description('pull directions and parting lines, best first, with their undercut figures')
        .argument(
          '<scan|plan>',
          'a scan (STL, PLY, OBJ, GLB or 3MF), or a saved plan: with its scan (.scute), or the plan alone (.json) with the scan beside it',
        ),
    ).option('--pieces <counts>', 'numbers of pieces to look into, parted by commas', '2,3,4'),
    'write suggestions.json, report.txt and each proposal as a plan (suggestion-1.scute.json ...) into this folder',
  )
    .addHelpText(
      'after',
      '\nA proposal’s plan is taken by `scute plan` like any other; the scan has to lie beside it. Lines keep out of the plan’s\nareas marked “not here” and “keep clear”; masses are for the plan’s coats and material.',
    )
    .action((path: string, options: SuggestOptions & OutputOptions) => suggestCommand(call, path, options));

  addExportCommand(program, call);

  return program;
}

async function planCommand(call: Call, path: string, options: ScanOptions & OutputOptions): Promise<void> {
  if (options.out !== undefined) await expectFolder(options.out);
  const material = options.material === undefined ? undefined : await readMaterial(options.material);
  const job = await readJob(path);
  const plan = applyOptions(job.plan, options, material);
  if (job.plan.parting.lines !== 'auto' && plan.parting.lines === 'auto') {
    warn(
      call,
      options,
      'The plan’s own parting lines are left out, since --pieces or --pull asks for others.',
    );
  }
  await answer(call, options, async (line) => {
    const readFrom = performance.now();
    const { mesh, notes, unit } = await readMesh(
      job.scan,
      new Checkpoint(line.show, call.signal, 0, READ_SHARE, 'reading the file'),
    );
    const result = await afterReading(
      computePlan(plan, mesh, {
        fileNotes: notes,
        ...(unit && { fileUnit: unit }),
        readMs: performance.now() - readFrom,
        progress: (fraction, phase) => line.show(READ_SHARE + (1 - READ_SHARE) * fraction, phase),
        signal: call.signal,
        ...(call.slabs && { slabs: call.slabs }),
      }),
    );
    return {
      json: result,
      jsonName: 'result.json',
      report: reportPlan(plan, result, options.units),
      warnings: result.scan.warnings,
    };
  });
}

async function checkCommand(call: Call, path: string, options: ScanOptions & OutputOptions): Promise<void> {
  if (options.out !== undefined) await expectFolder(options.out);
  const job = await readJob(path);
  const plan = applyOptions(job.plan, options, undefined);
  await answer(call, options, async (line) => {
    const { mesh, notes, unit } = await readMesh(
      job.scan,
      new Checkpoint(line.show, call.signal, 0, 0.5, 'reading the file'),
    );
    const cp = new Checkpoint(line.show, call.signal, 0.5, 1, 'looking at the scan');
    const { report: scan } = withCrossings(await afterReading(prepareScan(mesh, plan.scan, notes, cp, unit)));
    return {
      json: { schema: 'scute-check/1', scan },
      jsonName: 'check.json',
      report: reportCheck(plan.scan.file, scan, options.units),
      warnings: scan.warnings,
    };
  });
}

async function suggestCommand(
  call: Call,
  path: string,
  options: SuggestOptions & OutputOptions,
): Promise<void> {
  if (options.out !== undefined) await expectFolder(options.out);
  const { pieces, ...scanOptions } = options;
  const pieceCounts = readPieceCounts(pieces);
  const job = await readJob(path);
  const plan = applyOptions(job.plan, scanOptions, undefined);
  await answer(call, options, async (line) => {
    const { mesh, notes, unit } = await readMesh(
      job.scan,
      new Checkpoint(line.show, call.signal, 0, READ_SHARE, 'reading the file'),
    );
    const cp = new Checkpoint(line.show, call.signal, READ_SHARE, 1);
    const scan = await afterReading(
      prepareScan(mesh, plan.scan, notes, cp.within(0, 0.1, 'putting the scan right'), unit),
    );
    const suggestions = await afterReading(
      suggestPartings(
        scan,
        new SurfaceContext(scan),
        plan,
        pieceCounts,
        cp.within(0.1, 1, 'looking for partings'),
      ),
    );
    return {
      json: { schema: 'scute-suggestions/1', suggestions },
      jsonName: 'suggestions.json',
      report: reportSuggestions(plan, suggestions, options.units),
      warnings: scan.report.warnings,
      files: Object.fromEntries(
        suggestions.map((suggestion) => [
          `suggestion-${suggestion.rank}.scute.json`,
          serialisePlan(takeSuggestion(plan, suggestion)),
        ]),
      ),
    };
  });
}

interface Answer {
  readonly json: object;
  readonly jsonName: string;
  readonly report: Report;
  readonly warnings: readonly ScanNote[];
  /** Further files for the folder, by name. */
  readonly files?: Readonly<Record<string, string>>;
}

/** Works an answer out under a line of progress, then writes it where it was asked for. */
async function answer(
  call: Call,
  options: OutputOptions,
  work: (line: ProgressLine) => Promise<Answer>,
): Promise<void> {
  const line = new ProgressLine(call.err, options.quiet === true);
  let made: Answer;
  try {
    made = await work(line);
    call.signal.throwIfAborted();
  } finally {
    line.clear();
  }
  const json = `${JSON.stringify(made.json, null, 2)}\n`;
  const text = renderText(made.report);
  if (options.out !== undefined) {
    await writeWhole(options.out, { [made.jsonName]: json, 'report.txt': text, ...made.files });
  }
  if (options.json === true) {
    // The tables carry the warnings themselves; beside JSON they would be missed.
    for (const { text: warning } of made.warnings) warn(call, options, warning);
  }
  call.out.write(options.json === true ? json : text);
}

function warn(call: Call, options: OutputOptions, text: string): void {
  if (options.quiet !== true) call.err.write(`scute: note: ${plainLine(text)}\n`);
}

function addOutputOptions(command: Command, out: string): Command {
  return command
    .addOption(unitsOption())
    .option('--json', 'JSON on standard output and nothing else there')
    .option('--out <folder>', out)
    .option('--quiet', 'no progress and no notes on standard error');
}
