import { listWords } from '../../listWords.ts';
import type { Suggestion } from './Suggestion.ts';

/** What a ranked proposal is judged by; a suggestion without its words. */
export type RankedFigures = Omit<Suggestion, 'rank' | 'why'>;

/** Undercut below this share of the surface is the simplified surface's own roughness. */
const FREE_SHARE = 0.002;
/** Lengths nearer than this share count as the same in what is said. */
const SAME_SHARE = 0.03;

/**
 * Why each proposal stands where it stands, by rank: how it locks, what speaks for it beside the others, and what has to be
 * minded when it comes apart. Without figures: they stand beside it, in the reader's own units.
 */
export function explainRanks(ranked: readonly RankedFigures[], giveMm: number): string[] {
  const kinds = ranked.map((each) => kindOf(each, giveMm));
  return ranked.map((each, n) => {
    const alike = ranked.filter((_, m) => kinds[m] === kinds[n]);
    const parts = [`${sayLock(each, kinds[n], giveMm)}${sayMerit(ranked, n, alike, kinds[n])}.`];
    const order = sayRemoval(each);
    if (order !== '') parts.push(order);
    return parts.join(' ');
  });
}

type Kind = 'free' | 'yields' | 'locks';

function kindOf(each: RankedFigures, giveMm: number): Kind {
  const areaMm2 = each.pieces.reduce((sum, piece) => sum + piece.areaMm2, 0);
  if (each.maxDepthMm > giveMm) return 'locks';
  return each.undercutMm2 > FREE_SHARE * areaMm2 ? 'yields' : 'free';
}

function sayLock(each: RankedFigures, kind: Kind, giveMm: number): string {
  if (kind === 'free') return 'Nothing of it locks';
  if (kind === 'yields') return 'Locks nowhere deeper than the rubber yields';
  const locking = each.pieces.filter((piece) => piece.undercut.maxDepthMm > giveMm).map((piece) => piece.id);
  return locking.length === each.pieces.length
    ? 'Every piece locks deeper than the rubber yields'
    : `Locks deeper than the rubber yields in ${listWords(locking)} alone`;
}

function sayMerit(
  ranked: readonly RankedFigures[],
  n: number,
  alike: readonly RankedFigures[],
  kind: Kind,
): string {
  const own = ranked[n];
  const isLeast = (pick: (each: RankedFigures) => number, among: readonly RankedFigures[]): boolean =>
    among.length > 1 && among.every((each) => each === own || pick(own) < pick(each) * (1 - SAME_SHARE));
  const merits: string[] = [];
  if (kind === 'locks' && alike.length === ranked.length) {
    if (isLeast((each) => each.fillerMm3, ranked)) merits.push('the least filler');
    if (isLeast((each) => each.maxDepthMm, ranked)) merits.push('the shallowest lock');
  }
  if (isLeast((each) => each.pieces.length, alike)) merits.push('the fewest pieces');
  if (isLeast((each) => each.lineMm, alike)) merits.push('the shortest line');
  if (merits.length > 0) {
    const among = alike.length === ranked.length ? 'all' : 'those';
    return `; ${listWords(merits.slice(0, 2))} of ${among}`;
  }
  if (n === 0) return ranked.length > 1 ? '; the best balance of lock, pieces and line' : '';
  const first = ranked[0];
  const faults: string[] = [];
  const more = own.pieces.length - first.pieces.length;
  if (more > 0) faults.push(more === 1 ? 'one piece more' : `${more} pieces more`);
  // What stays within the give is no fault.
  const isDeeper = own.maxDepthMm > first.maxDepthMm * (1 + SAME_SHARE);
  if (kind === 'locks' && isDeeper) faults.push('a deeper lock');
  else if (kind === 'locks' && own.fillerMm3 > first.fillerMm3 * (1 + SAME_SHARE)) faults.push('more filler');
  if (own.lineMm > first.lineMm * (1 + SAME_SHARE)) faults.push('a longer line');
  return faults.length > 0 ? `; ${listWords(faults.slice(0, 2))} than the first` : '; close to the first';
}

function sayRemoval({ removal }: RankedFigures): string {
  if (removal.locked.length > 0)
    return `${listWords(removal.locked)} hold each other, whichever is pulled first.`;
  return removal.waits.length > 0 ? `Comes off in the order ${removal.order.join(', ')}.` : '';
}
