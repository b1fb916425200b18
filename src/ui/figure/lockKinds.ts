import type { PiecePicture, UndercutPicture } from '../../jobs/protocol.ts';

/** Kinds of undercut as in UndercutPicture.kind, 0 left out. */
export const LOCK_KINDS = [1, 2, 3, 4] as const;
export type LockKind = (typeof LOCK_KINDS)[number];

export const LOCK_WORDS: Readonly<Record<LockKind, string>> = {
  1: 'faces away',
  2: 'behind rubber',
  3: 'behind a piece',
  4: 'behind the board',
};

const known = new WeakMap<UndercutPicture, readonly LockKind[]>();

/** The kinds that occur on these pieces, in the order of LOCK_KINDS. Kept as long as the pictures live. */
export function lockKinds(pieces: readonly Pick<PiecePicture, 'undercut'>[]): readonly LockKind[] {
  const all = new Set<LockKind>();
  for (const { undercut } of pieces) {
    if (undercut === null) continue;
    let kinds = known.get(undercut);
    if (kinds === undefined) {
      kinds = LOCK_KINDS.filter((kind) => undercut.kind.includes(kind));
      known.set(undercut, kinds);
    }
    for (const kind of kinds) all.add(kind);
  }
  return LOCK_KINDS.filter((kind) => all.has(kind));
}

/** The deepest lock on these pieces, mm; 0 when nothing locks. */
export function deepestMm(pieces: readonly Pick<PiecePicture, 'undercut'>[]): number {
  let deepest = 0;
  for (const { undercut } of pieces) {
    if (undercut === null) continue;
    let most = deepestKnown.get(undercut);
    if (most === undefined) {
      most = undercut.depthMm.reduce((max, mm) => Math.max(max, mm), 0);
      deepestKnown.set(undercut, most);
    }
    deepest = Math.max(deepest, most);
  }
  return deepest;
}

const deepestKnown = new WeakMap<UndercutPicture, number>();
