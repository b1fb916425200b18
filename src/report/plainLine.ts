/**
 * What a terminal would obey instead of showing: control characters (a line feed among them), line and paragraph separators,
 * and marks that turn the direction of what follows. Joiners stay, since some scripts are written with them.
 */
const OBEYED = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/** A text that may hold names from outside, safe to stand in one line of a terminal: what it would obey is shown as "?". */
export function plainLine(text: string): string {
  return text.replace(OBEYED, '?');
}
