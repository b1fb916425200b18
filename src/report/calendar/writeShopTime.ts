/**
 * An instant by the clock of the machine that is asked, ISO 8601 with its offset: "2026-12-01T09:30:00+01:00". As the
 * log takes it: the day goes on from the clock time as written, which universal time ("...Z") would not tell. To the
 * second.
 */
export function writeShopTime(at: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  const aheadMin = -at.getTimezoneOffset();
  const awayMin = Math.abs(aheadMin);
  const offset = `${aheadMin < 0 ? '-' : '+'}${two(Math.floor(awayMin / 60))}:${two(awayMin % 60)}`;
  const date = `${String(at.getFullYear()).padStart(4, '0')}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${date}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}${offset}`;
}
