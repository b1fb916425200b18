import { isWorkYear, WORK_YEARS } from '../core/plan/workYears.ts';
import { CallError } from './CallError.ts';

/** A day as written in the call, "2026-12-01", when there is such a day. Throws CallError. */
export function readStartDate(text: string): string {
  const isWritten = /^\d{4}-\d{2}-\d{2}$/.test(text);
  const at = isWritten ? Date.parse(`${text}T00:00:00Z`) : Number.NaN;
  // Some engines take the 31st of February for the 3rd of March: what comes back must be what was written.
  if (!Number.isNaN(at) && new Date(at).toISOString().slice(0, 10) === text) {
    if (isWorkYear(text)) return text;
    throw new CallError(
      `--start: “${text}” lies outside the years ${WORK_YEARS.from} to ${WORK_YEARS.to}; write it like 2026-12-01.`,
    );
  }
  throw new CallError(`--start: “${text}” is not a day of the calendar; write it like 2026-12-01.`);
}
