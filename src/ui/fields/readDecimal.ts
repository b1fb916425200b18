/**
 * A plain number typed by a person, with a comma or a point as the decimal mark, or a sentence that says why it cannot
 * be read. "1,250" may mean either of two numbers and is refused rather than guessed.
 */
export function readDecimal(
  typed: string,
  example = '2.5',
): { readonly value: number } | { readonly problem: string } {
  const text = typed.trim().replace(/[\u2212]/g, '-');
  if (/^[+-]?[1-9]\d{0,2},\d{3}$/.test(text)) {
    return {
      problem: `\u201c${text}\u201d can be read in two ways; write it without a comma.`,
    };
  }
  if (!/^[+-]?(\d+[.,]?\d*|[.,]\d+)$/.test(text)) return { problem: `Write a number, such as ${example}.` };
  return { value: Number(text.replace(',', '.')) };
}
