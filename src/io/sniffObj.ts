import { isTextual } from './isTextual.ts';
import { isObjWord } from './objWords.ts';

/** How much is looked at: room for a long comment and a list of materials before the first vertex. */
const LOOKED_AT = 65536;

/**
 * Whether the bytes are a Wavefront OBJ by content: a text whose lines, as far as they are looked at, all begin with words
 * of the format, among them a vertex of at least three numbers.
 */
export function sniffObj(bytes: Uint8Array): boolean {
  if (!isTextual(bytes)) return false;
  const text = new TextDecoder().decode(bytes.subarray(0, LOOKED_AT));
  // The last line may be cut by the limit, and tells nothing then.
  const lines = (bytes.length > LOOKED_AT ? text.slice(0, text.lastIndexOf('\n') + 1) : text).split(
    /[\r\n]+/,
  );
  let hasVertex = false;
  let isContinued = false;
  for (const line of lines) {
    const [word, ...rest] = line
      .replace(/^\ufeff/, '')
      .trim()
      .split(/\s+/);
    const wasContinued = isContinued;
    isContinued = line.trimEnd().endsWith('\\');
    if (wasContinued || word === '' || word.startsWith('#')) continue;
    if (!isObjWord(word)) return false;
    if (word === 'v' && rest.length >= 3 && rest.slice(0, 3).every((n) => /^[-+.\d]/.test(n)))
      hasVertex = true;
  }
  return hasVertex;
}
