import type { Vec3 } from '../core/mesh/TriMesh.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';

/** One length in both systems, for a size that is still in question: "1.80 m (70 7/8 in)". */
export function sayBothLengths(mm: number): string {
  return `${formatLength(mm, 'metric')} (${formatLength(mm, 'us')})`;
}

/** Width, depth and height in one line, a unit that all three share only once: "331 × 290 × 509 mm". */
export function saySize(sizeMm: Vec3, system: UnitSystem): string {
  const said = sizeMm.map((mm) => formatLength(mm, system).replaceAll(' ', '\u00a0'));
  const units = new Set(said.map((text) => text.slice(text.lastIndexOf('\u00a0'))));
  const [unit] = units;
  const isShared = units.size === 1 && system === 'metric' && unit !== undefined;
  const last = said.length - 1;
  return said.map((text, i) => (isShared && i < last ? text.slice(0, -unit.length) : text)).join(' \u00d7 ');
}

/** What the last change did to a length: "\u22121.4 mm", "no change" when it is less than can be read. */
export function sayLengthChange(nowMm: number, beforeMm: number, system: UnitSystem): string {
  const change = nowMm - beforeMm;
  const text = formatLength(Math.abs(change), system);
  if (!/[1-9]/.test(text) || formatLength(nowMm, system) === formatLength(beforeMm, system))
    return 'no change';
  return `${change > 0 ? '+' : '\u2212'}${text}`;
}
