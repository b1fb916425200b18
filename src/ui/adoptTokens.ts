import tokens from './tokens.css?raw';

/**
 * Lays the tokens under the page as they are written. Going through the bundler's CSS would turn light-dark() into
 * variables that are settled at the root, and the shop sheet, which is light on a dark page too, could not differ.
 */
export function adoptTokens(root: Document): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(tokens);
  root.adoptedStyleSheets = [...root.adoptedStyleSheets, sheet];
}
