import type { LineLoad } from './LineLoad.ts';

/**
 * Force that each line has to hold together, N, in the order of `lines`. A piece's opening force is shared over the lines
 * around it by the pressure's integral along each, or by length where none of them is under pressure; the two pieces at a line pull at
 * it from both sides, and the larger share counts. Pieces that are pressed on (0 or less) open nothing.
 *
 * Own: there is no published rule. It leaves out prying, which a pull beside the middle of the lines adds at their far end.
 */
export function shareOverLines(
  lines: readonly LineLoad[],
  openingN: ReadonlyMap<string, number>,
): Float64Array {
  const loadN = new Float64Array(lines.length);
  for (const [piece, force] of openingN) {
    if (!(force > 0)) continue;
    const around = lines.map((line, n) => (line.between.includes(piece) ? n : -1)).filter((n) => n >= 0);
    const underPressure = around.reduce((sum, n) => sum + lines[n].pressurePaMm, 0);
    const length = around.reduce((sum, n) => sum + lines[n].lengthMm, 0);
    for (const n of around) {
      const share = underPressure > 0 ? lines[n].pressurePaMm / underPressure : lines[n].lengthMm / length;
      loadN[n] = Math.max(loadN[n], force * share);
    }
  }
  return loadN;
}
