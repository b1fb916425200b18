import type { Basis } from './MaterialSystem.ts';

const WORDS: Readonly<Record<Basis['kind'], string>> = {
  published: 'published',
  'common-practice': 'common practice, no source',
  'from-memory': 'from memory',
  yours: 'yours',
};

/** A basis in words: "common practice, no source: …". A text that begins with those very words does not get them twice. */
export function sayBasis(basis: Basis): string {
  const words = WORDS[basis.kind];
  return basis.text.toLowerCase().startsWith(words) ? basis.text : `${words}: ${basis.text}`;
}
