const STEPS: readonly (readonly [number, string])[] = [
  [1e9, 'GB'],
  [1e6, 'MB'],
  [1e3, 'kB'],
];

/** An amount of memory in decimal units, three figures at most: "830 bytes", "12.4 MB", "2.1 GB". */
export function sayBytes(bytes: number): string {
  // What would be written as a thousand of a unit is one of the next.
  const step = STEPS.find(([size]) => bytes >= 0.9995 * size);
  if (!step) return `${Math.round(bytes)}\u00a0bytes`;
  const amount = bytes / step[0];
  return `${amount >= 99.95 ? Math.round(amount) : amount.toFixed(1)}\u00a0${step[1]}`;
}
