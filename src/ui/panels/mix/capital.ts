/** The word with a capital at its beginning, for headings. */
export function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
