/** Names longer than this are cut before anything is added, so that a copy's name still fits the field for it. */
const LONGEST_STEM = 60;

/** What a copy is called: "Bust, copy", then "Bust, copy 2"; a copy's copy counts on. `taken`: names that are in use. */
export function copyName(name: string, taken: readonly string[]): string {
  const stem = name.replace(/, copy( \d+)?$/u, '').slice(0, LONGEST_STEM);
  for (let n = 1; ; n++) {
    const candidate = n === 1 ? `${stem}, copy` : `${stem}, copy ${n}`;
    if (!taken.includes(candidate)) return candidate;
  }
}
