/** Longest field or reason that a message repeats, characters: a path through a plan takes 60, a name may have 200. */
const MOST_CHARACTERS = 300;

/**
 * Words that may hold a piece of a document from outside, safe to print: anything that is not printable becomes "?", so that
 * neither a terminal nor a page can be steered by it, and what is long loses its middle.
 */
export function plainWords(text: string): string {
  // Cut before it is looked through: a key may have a million characters.
  const cut =
    text.length > MOST_CHARACTERS
      ? `${text.slice(0, MOST_CHARACTERS / 2)}...${text.slice(-MOST_CHARACTERS / 2)}`
      : text;
  return cut.replace(/[^\p{L}\p{M}\p{N}\p{P}\p{S} ]/gu, '?');
}
