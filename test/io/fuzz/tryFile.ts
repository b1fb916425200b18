import { MeshError } from '../../../src/core/errors.ts';
import { openMesh } from '../../../src/io/openMesh.ts';
import { readPlanBundle } from '../../../src/io/readPlanBundle.ts';

/** What a reader made of a file. */
export interface Outcome {
  readonly is: 'mesh' | 'refusal' | 'fault';
  /** What it said, or what is wrong with it. */
  readonly text: string;
  /** MeshError's code; empty for what is none. */
  readonly code: string;
  /** Of the clock, or of the processor where that is less: other things may run beside. */
  readonly tookMs: number;
}

/** A sentence that people can read: nothing that steers a terminal, neither too short to say anything nor a page long. */
const SENTENCE = /^[\x20-\x7e\p{L}\p{M}\p{N}\p{P}\p{S}]{20,500}\.$/u;

/** Reads the file by its name's ending as the command does, and looks whether what comes out can be stood behind. */
export async function tryFile(bytes: Uint8Array, name: string): Promise<Outcome> {
  const from = performance.now();
  const cpuFrom = process.cpuUsage();
  const given = (is: Outcome['is'], text: string, code = ''): Outcome => {
    const { user, system } = process.cpuUsage(cpuFrom);
    return { is, text, code, tookMs: Math.min(performance.now() - from, (user + system) / 1000) };
  };
  try {
    const fault = name.endsWith('.scute') ? await faultOfBundle(bytes, name) : await faultOfMesh(bytes, name);
    return fault === null ? given('mesh', '') : given('fault', fault);
  } catch (error) {
    if (!(error instanceof MeshError)) {
      return given('fault', error instanceof Error ? (error.stack ?? error.message) : String(error));
    }
    const { message, code, place } = error;
    if (!SENTENCE.test(message)) return given('fault', `no sentence: ${message}`, code);
    if ((place.byte ?? 0) > bytes.length) return given('fault', `a place beyond the end: ${message}`, code);
    return given('refusal', message, code);
  }
}

async function faultOfMesh(bytes: Uint8Array, name: string): Promise<string | null> {
  const { mesh, notes } = await openMesh(bytes, name);
  const { positions, indices } = mesh;
  const vertCount = positions.length / 3;
  if (!Number.isInteger(vertCount)) return `${positions.length} coordinates`;
  if (indices.length === 0 || indices.length % 3 !== 0) return `${indices.length} corners`;
  if (!positions.every(Number.isFinite)) return 'a coordinate that is not finite';
  if (!indices.every((vert) => vert < vertCount)) return 'a corner that no vertex has';
  const odd = notes.find(({ text }) => !/^[\x20-\x7e\p{L}\p{M}\p{N}\p{P}\p{S}]+$/u.test(text));
  return odd === undefined ? null : `a note that cannot be printed: ${JSON.stringify(odd.text)}`;
}

async function faultOfBundle(bytes: Uint8Array, name: string): Promise<string | null> {
  const { scanName, scanBytes } = await readPlanBundle(bytes, name);
  if (scanBytes.byteLength === 0) return 'an empty scan';
  return /[/\\<>\p{C}]/u.test(scanName) ? `a name that is not safe: ${JSON.stringify(scanName)}` : null;
}
