/** Longest piece of a file's text that a message repeats; a whole line would push the advice out of sight. */
const MAX_QUOTED = 40;

/**
 * A piece of text from outside (a token of a file, a file's name) in quotes, made safe to print: anything that is not
 * printable is shown as "?", so that neither a terminal nor a page can be steered by it, and long text is cut.
 */
export function quoteText(text: string): string {
  const printable = text.replace(/[^\p{L}\p{M}\p{N}\p{P}\p{S} ]/gu, '?');
  return printable.length > MAX_QUOTED ? `"${printable.slice(0, MAX_QUOTED)}..."` : `"${printable}"`;
}

/** The bytes `from..to` as `quoteText` shows them. */
export function quoteBytes(bytes: Uint8Array, from: number, to: number): string {
  return quoteText(new TextDecoder().decode(bytes.subarray(from, Math.min(to, from + 4 * MAX_QUOTED))));
}
