import type { MaterialSystem } from '../core/material/MaterialSystem.ts';
import { firstPlanIssue } from '../core/plan/firstPlanIssue.ts';
import type { CoatKind, CoatPlan, PlanDocument, ScanPlan } from '../core/plan/PlanDocument.ts';
import { plainCoat } from '../core/plan/plainCoat.ts';
import { parseLength } from '../core/units.ts';
import { CallError } from './CallError.ts';
import { readLeave } from './readLeave.ts';
import type { ScanOptions } from './ScanOptions.ts';

/** Which option speaks for which part of the plan, longest key first, to name the option when its value is out of range. */
const OPTION_OF_FIELD: readonly (readonly [string, keyof ScanOptions])[] = [
  ['scan.unit', 'unit'],
  ['scan.scale', 'scale'],
  ['scan.up', 'up'],
  ['scan.board', 'board'],
  ['scan.rubberMm', 'rubber'],
  ['coats', 'coats'],
  ['coats', 'thickness'],
  ['parting.pieceCount', 'pieces'],
  ['parting.pullAzimuthsDeg', 'pull'],
  ['material', 'material'],
  ['resolutionMm', 'resolution'],
];

/** A whole number without its unit before another: “9,5” and “9,5mm” are two coats to one reader, nine and a half to another. */
const COMMA_OR_POINT = /(^|,)\s*\d+\s*,\s*\d+\s*[^\s\d.,/]*\s*(,|$)/;

/**
 * The plan with the call's options laid over it, held to the plan's schema; the plan itself is taken as valid.
 * Throws CallError naming the option that is off.
 */
export function applyOptions(
  plan: PlanDocument,
  options: ScanOptions,
  material: MaterialSystem | undefined,
): PlanDocument {
  const isRelined = options.pieces !== undefined || options.pull !== undefined;
  const wanted: unknown = {
    ...plan,
    scan: applyScanOptions(plan.scan, options),
    parting: {
      ...plan.parting,
      ...(options.pieces === undefined ? {} : { pieceCount: readNumber('pieces', options.pieces) }),
      ...(options.pull === undefined ? {} : { pullAzimuthsDeg: readNumbers('pull', options.pull) }),
      // Lines and names of the plan belong to its own number of pieces and its own pulls.
      ...(isRelined ? { lines: 'auto', pieces: [] } : {}),
      ...(options.flange === false ? { flange: null } : {}),
    },
    coats: applyCoatOptions(plan.coats, options),
    material: material ?? plan.material,
    ...(options.resolution === undefined
      ? {}
      : {
          resolutionMm: options.resolution === 'auto' ? 'auto' : readLength('resolution', options.resolution),
        }),
  };
  const parsed = firstPlanIssue(wanted);
  if ('plan' in parsed) return parsed.plan;
  const { field, text } = parsed.issue;
  const option = OPTION_OF_FIELD.find(([key, name]) => field.startsWith(key) && options[name] !== undefined);
  if (option?.[1] === 'thickness' && readLength('thickness', options.thickness ?? '') > 0) {
    // The number in the issue is that of one coat, which nobody typed.
    throw new CallError(`--thickness: shared out over the plan’s coats, the thickness of one ${text}.`);
  }
  throw new CallError(option === undefined ? `In the plan, “${field}” ${text}.` : `--${option[1]} ${text}.`);
}

function applyScanOptions(scan: ScanPlan, options: ScanOptions): unknown {
  return {
    ...scan,
    ...(options.unit === undefined ? {} : { unit: options.unit }),
    ...(options.scale === undefined ? {} : { scale: readNumber('scale', options.scale) }),
    ...(options.up === undefined ? {} : { up: options.up }),
    ...(options.board === undefined ? {} : { board: readBoard(options.board) }),
    ...(options.leave === undefined ? {} : { leave: readLeave(options.leave) }),
    ...(options.rubber === undefined
      ? {}
      : { is: 'pattern', rubberMm: readLength('rubber', options.rubber) }),
  };
}

function readBoard(text: string): 'auto' | 'none' | number {
  if (text === 'auto' || text === 'none') return text;
  const parsed = parseLength(text, 'mm', { allowNegative: true });
  if ('problem' in parsed) {
    throw new CallError(`--board takes auto, none or a height in mm. ${parsed.problem}`);
  }
  return parsed.mm;
}

function applyCoatOptions(coats: readonly CoatPlan[], options: ScanOptions): readonly CoatPlan[] {
  if (options.thickness !== undefined) {
    const wantedMm = readLength('thickness', options.thickness);
    const totalMm = coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);
    return coats.map((coat) => ({ ...coat, thicknessMm: (coat.thicknessMm * wantedMm) / totalMm }));
  }
  if (options.coats === undefined) return coats;
  if (COMMA_OR_POINT.test(options.coats)) {
    throw new CallError(
      `--coats: “${options.coats}” can be read in two ways, with the comma between coats or before decimals; write each coat with its unit, like 1.5mm,3mm.`,
    );
  }
  const thicknessesMm = options.coats.split(',').map((text) => readLength('coats', text));
  if (thicknessesMm.length === coats.length) {
    return coats.map((coat, n) => ({ ...coat, thicknessMm: thicknessesMm[n] }));
  }
  return thicknessesMm.map((thicknessMm, n) => {
    const kind = kindOfCoat(n, thicknessesMm.length);
    return plainCoat(`${kind[0].toUpperCase()}${kind.slice(1)} ${n + 1}`, kind, thicknessMm);
  });
}

/**
 * What a coat is by its place, when only thicknesses are given: a face coat first and a finish coat last as far as there are
 * coats for them, the strength between. Common practice, no source.
 */
export function kindOfCoat(index: number, count: number): CoatKind {
  if (count === 1) return 'reinforced';
  if (index === 0) return 'face';
  if (index === count - 1 && count > 2) return 'finish';
  return index === 1 && count > 3 ? 'build' : 'reinforced';
}

function readLength(option: keyof ScanOptions, text: string): number {
  const parsed = parseLength(text, 'mm');
  if ('problem' in parsed) throw new CallError(`--${option}: ${parsed.problem}`);
  return parsed.mm;
}

function readNumber(option: keyof ScanOptions, text: string): number {
  // Number('') is 0 and Number('0x10') is 16; neither was meant.
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim())) {
    throw new CallError(`--${option}: “${text}” is not a number; write it like 2 or 0.5.`);
  }
  return Number(text);
}

function readNumbers(option: keyof ScanOptions, text: string): number[] {
  return text.split(',').map((part) => readNumber(option, part));
}
