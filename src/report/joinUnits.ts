const UNITS = 'mm|cm|m|in|ft|cm²|m²|in²|ft²|ml|L|in³|gal|g|kg|oz|lb|lbf|N|kN|kPa|psi|min|h|days?|%|°C|°F';
const SPACE_BEFORE_UNIT = new RegExp(`(\\d) (?=(?:${UNITS})(?![\\p{L}\\p{N}]))`, 'gu');

/** A sentence whose numbers do not part from their units at the end of a line: "2 lb" stays whole, "2 lb 5.6 oz" may break in its middle. */
export function joinUnits(sentence: string): string {
  return sentence.replace(SPACE_BEFORE_UNIT, '$1\u00a0');
}
