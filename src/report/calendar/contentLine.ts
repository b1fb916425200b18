/** No line is longer, line break not counted, in octets: RFC 5545, section 3.1. */
const MOST_OCTETS = 75;

/**
 * What no text value may hold: controls but for the tab (RFC 5545, section 3.3.11), and halves of characters. Line
 * ends are written otherwise.
 */
const FORBIDDEN = /[^\P{Control}\t\n]|\p{Surrogate}/gu;

/**
 * A line of an iCalendar file, its line break (CR LF) included: name with its parameters, a colon, the value as it stands.
 * A long one is folded: broken before the 76th octet and gone on with after a space, never within a character, as
 * octets count and not letters (RFC 5545, section 3.1).
 */
export function contentLine(name: string, value: string): string {
  let folded = '';
  let octets = 0;
  for (const letter of `${name}:${value}`) {
    const size = octetsOf(letter);
    if (octets + size > MOST_OCTETS) {
      folded += '\r\n ';
      octets = 1;
    }
    folded += letter;
    octets += size;
  }
  return `${folded}\r\n`;
}

/** A text as a value: backslash, semicolon and comma behind a backslash, a line's end as "\n" (RFC 5545, section 3.3.11). */
export function escapeText(text: string): string {
  return text
    .replaceAll(/\r\n?/g, '\n')
    .replaceAll(FORBIDDEN, '\u{fffd}')
    .replaceAll(/[\\;,]/g, (sign) => `\\${sign}`)
    .replaceAll('\n', '\\n');
}

/** Octets of a character in UTF-8. */
function octetsOf(letter: string): number {
  const code = letter.codePointAt(0) ?? 0;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x10000 ? 3 : 4;
}
