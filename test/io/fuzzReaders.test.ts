import { describe, expect, it } from 'vitest';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { damageFile } from './fuzz/damageFile.ts';
import { type Outcome, tryFile } from './fuzz/tryFile.ts';
import { WHOLE_FILES, type WholeFile } from './fuzz/wholeFiles.ts';
import { concat, encode } from './sampleFiles.ts';

const IS_CAMPAIGN = process.env['SCUTE_CAMPAIGN'] === '1';
const SEED = 1200;
const CASES = IS_CAMPAIGN ? 100_000 : 4_000;
const CUTS = IS_CAMPAIGN ? 1000 : 60;

/** No file this small may take longer, ms, on a machine that does other things besides. */
const MOST_MS = 2000;
/** The most that this process may ever have had in memory, the test's own tools included, bytes. */
const MOST_BYTES = 1e9;
const TIMEOUT_MS = 60_000 + 20 * CASES;

/** Beginnings that lead bytes of any kind into a reader. */
const HEADS = [
  '',
  'solid ',
  'solid x\nfacet ',
  'ply\n',
  'ply\nformat ascii 1.0\nelement vertex 3\n',
  'v 1 2 3\n',
].map(encode);

interface Case {
  readonly kind: string;
  readonly how: string;
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** The case of a number, the same each time. */
function makeCase(number: number): Case {
  const random = seededRandom(SEED + number);
  if (random() < 0.06) {
    const any = Uint8Array.from({ length: Math.floor(600 * random()) }, () => 256 * random());
    const bytes = concat(HEADS[Math.floor(HEADS.length * random())], any);
    return { kind: 'bytes of any kind', how: '', name: ['a', 'a.stl', 'a.ply', 'a.obj'][number % 4], bytes };
  }
  const { kind, name, bytes, inner } = WHOLE_FILES[Math.floor(WHOLE_FILES.length * random())];
  if (inner && random() < 0.7) {
    const { how, bytes: changed } = damageFile(encode(inner.text), random);
    return { kind, how: `inside: ${how}`, name, bytes: inner.wrap(new TextDecoder().decode(changed)) };
  }
  const { how, bytes: damaged } = damageFile(bytes, random);
  const isNameless = !name.endsWith('.scute') && random() < 0.2;
  return { kind, how, name: isNameless ? 'a' : name, bytes: damaged };
}

/** What must not be, in a sentence that finds the case again; null when all is well. */
function wrongOf(outcome: Outcome, bytes: Uint8Array): string | null {
  if (outcome.is === 'fault') return outcome.text;
  // Files this small need no memory to speak of: such a refusal would hide a reader that looks past the end.
  if (outcome.code === 'too-large' && bytes.length < 100_000) return outcome.text;
  return outcome.tookMs > MOST_MS ? `took ${outcome.tookMs.toFixed(0)} ms` : null;
}

describe('every reader, given damaged files', () => {
  it(
    `${CASES} cases of seed ${SEED}: a sound mesh or a refusal in words, soon and in little memory`,
    async () => {
      const seen = new Map<string, { meshes: number; refusals: number }>();
      let slowest = { tookMs: 0, what: '' };
      for (let number = 0; number < CASES; number++) {
        const { kind, how, name, bytes } = makeCase(number);
        const outcome = await tryFile(bytes, name);
        const what = `seed ${SEED}, case ${number} (${kind}; ${how}; ${bytes.length} bytes as ${name})`;
        const wrong = wrongOf(outcome, bytes);
        if (wrong !== null) expect.fail(`${what}: ${wrong}`);
        if (outcome.tookMs > slowest.tookMs) slowest = { tookMs: outcome.tookMs, what };
        const counts = seen.get(kind) ?? { meshes: 0, refusals: 0 };
        counts[outcome.is === 'mesh' ? 'meshes' : 'refusals']++;
        seen.set(kind, counts);
      }
      // Both must occur for each, or the damage is too heavy or too light to tell anything.
      for (const { kind } of WHOLE_FILES) {
        expect(seen.get(kind)?.refusals, kind).toBeGreaterThan(0);
        expect(seen.get(kind)?.meshes, kind).toBeGreaterThan(0);
      }
      // Kilobytes, at its highest since the process began.
      const peakBytes = 1024 * process.resourceUsage().maxRSS;
      expect(peakBytes).toBeLessThan(MOST_BYTES);
      if (IS_CAMPAIGN) {
        console.log(
          `${CASES} damaged files: slowest ${slowest.tookMs.toFixed(0)} ms (${slowest.what}), memory at most ${(peakBytes / 1e6).toFixed(0)} MB`,
        );
        console.table(Object.fromEntries(seen));
      }
    },
    TIMEOUT_MS,
  );

  describe.each(WHOLE_FILES)('$kind', (file) => {
    it('is sound before', async () => {
      expect(await tryFile(file.bytes, file.name)).toMatchObject({ is: 'mesh' });
    });

    it(`cut off at every byte of its head and at ${CUTS} places of seed ${SEED}`, async () => {
      const seen = { mesh: 0, refusal: 0, fault: 0 };
      for (const length of cutsOf(file)) {
        const outcome = await tryFile(file.bytes.slice(0, length), file.name);
        const wrong = wrongOf(outcome, file.bytes);
        if (wrong !== null) expect.fail(`cut off at byte ${length}: ${wrong}`);
        if (file.endsForSure && outcome.is === 'mesh')
          expect.fail(`cut off at byte ${length}: taken for whole`);
        seen[outcome.is]++;
      }
      expect(seen.refusal).toBeGreaterThan(0);
    });
  });
});

function cutsOf({ bytes, headBytes }: WholeFile): number[] {
  const random = seededRandom(SEED);
  const places = Array.from({ length: CUTS }, () => Math.floor(random() * bytes.length));
  return [...Array.from({ length: headBytes }, (_, at) => at), ...places];
}
