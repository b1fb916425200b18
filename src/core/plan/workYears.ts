/**
 * Years that a first day may lie in: a calendar file writes a year with four digits (RFC 5545, 3.3.4), and a job that begins
 * at the very end of them would run past. The bounds are our own choice; anything beyond is a slip of the key.
 */
export const WORK_YEARS = { from: 2000, to: 2199 } as const;

/** Whether a date such as "2026-12-01" lies in those years. */
export function isWorkYear(date: string): boolean {
  const year = Number(date.slice(0, 4));
  return year >= WORK_YEARS.from && year <= WORK_YEARS.to;
}
