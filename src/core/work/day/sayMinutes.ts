const MIN_PER_HOUR = 60;
const MIN_PER_DAY = 24 * MIN_PER_HOUR;

/** A span of time for people: "under 1 min", "7 min", "1 h 35 min", "2 days 3 h". From two days on minutes no longer matter. */
export function sayMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole === 0 && minutes > 0) return 'under 1\u00a0min';
  if (whole < MIN_PER_HOUR) return `${whole}\u00a0min`;
  if (whole < 2 * MIN_PER_DAY) {
    const rest = whole % MIN_PER_HOUR;
    const hours = `${Math.floor(whole / MIN_PER_HOUR)}\u00a0h`;
    return rest === 0 ? hours : `${hours} ${rest}\u00a0min`;
  }
  const hours = Math.round(whole / MIN_PER_HOUR);
  const rest = hours % 24;
  const days = `${Math.floor(hours / 24)}\u00a0days`;
  return rest === 0 ? days : `${days} ${rest}\u00a0h`;
}
