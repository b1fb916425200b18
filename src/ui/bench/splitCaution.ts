/** A heading shorter than this says too little to stand large by itself, characters. Own choice. */
const SHORTEST_HEAD = 16;

/**
 * A caution in two: what to do or fear, to be read from afar, and the rest. Nothing is lost: both together are the text. It
 * is parted behind the first colon, semicolon or full stop, never within brackets or a number.
 */
export function splitCaution(text: string): { readonly head: string; readonly rest: string } {
  let depth = 0;
  for (let n = 0; n < text.length; n++) {
    if (text[n] === '(') depth++;
    else if (text[n] === ')') depth--;
    const isEnd = depth === 0 && n >= SHORTEST_HEAD && ':;.'.includes(text[n]) && text[n + 1] === ' ';
    if (isEnd) return { head: text.slice(0, n + 1), rest: text.slice(n + 2) };
  }
  return { head: text, rest: '' };
}
