import { type Command, Option } from 'commander';
import { BUILT_IN_MATERIALS } from '../core/material/builtInMaterials.ts';
import { LEAVABLE_REPAIRS } from '../core/plan/leavableRepairs.ts';
import { LENGTH_UNITS, UP_AXES } from '../core/plan/PlanDocument.ts';

const MATERIAL_IDS = BUILT_IN_MATERIALS.map((system) => system.id).join(', ');

/** The options of `plan` as commander hands them over: words, not yet numbers. */
export interface ScanOptions {
  readonly unit?: string;
  readonly scale?: string;
  readonly up?: string;
  readonly board?: string;
  readonly leave?: string;
  readonly rubber?: string;
  readonly thickness?: string;
  readonly coats?: string;
  readonly pieces?: string;
  readonly pull?: string;
  /** False only when --no-flange was given. */
  readonly flange?: boolean;
  readonly material?: string;
  readonly resolution?: string;
}

/** Options that say how the file becomes a mould on its board. */
export function addScanOptions(command: Command): Command {
  return command
    .addOption(new Option('--unit <unit>', 'unit of the file').choices([...LENGTH_UNITS]))
    .option('--scale <factor>', 'further factor on the unit')
    .addOption(new Option('--up <axis>', 'axis of the file that points up').choices([...UP_AXES]))
    .option('--board <auto|none|mm>', 'height of the board along the up axis, after unit, scale and turn')
    .option(
      '--leave <codes>',
      `repairs of the scan to leave undone, parted by commas (${LEAVABLE_REPAIRS.join(', ')}), or none`,
    );
}

/** Options that say what is to be made over it. */
export function addShellOptions(command: Command): Command {
  return command
    .option(
      '--rubber <length>',
      'the scan is the bare pattern; rubber of this thickness goes over it (bare number: mm)',
    )
    .addOption(
      new Option(
        '--thickness <length>',
        'thickness of the whole shell; the plan’s coats are thinned or thickened alike',
      ).conflicts('coats'),
    )
    .option(
      '--coats <lengths>',
      'thickness of each coat from the rubber outward, parted by commas: 1.5mm,1/8in,3mm',
    )
    .option('--pieces <count>', 'number of pieces; the parting lines are found anew')
    .option(
      '--pull <degrees>',
      'azimuth of each pull from +x, counter-clockwise from above, parted by commas; one for two pieces means that and its opposite',
    )
    .option('--no-flange', 'no flange along the parting lines')
    .option(
      '--material <id|file>',
      `a built-in material system (${MATERIAL_IDS}; the first unless told), or a file with your own`,
    )
    .option('--resolution <mm>', 'edge of the field’s cells');
}
