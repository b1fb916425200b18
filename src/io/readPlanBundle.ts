import { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import { BUNDLED_PICTURE, BUNDLED_PLAN, safeFileName } from './bundleNames.ts';
import { quoteText } from './quoteText.ts';
import type { PlanBundle } from './writePlanBundle.ts';
import { ZipArchive } from './ZipArchive.ts';

/** All that is ever unpacked of one file, bytes: above any scan that is read here, below what a page can hold. */
export const MAX_UNPACKED_BYTES = 1_000_000_000;
/**
 * Of a small file no more than this, or this many times its bytes: the scan lies in it as it is, or shrunk to a tenth when it
 * was packed again; a bomb shrinks to a thousandth. Own choice.
 */
const FREE_BYTES = 32e6;
const MOST_SHARE = 30;
/** A plan with two thousand points a line stays far below. */
const MAX_PLAN_BYTES = 20_000_000;
const MAX_PICTURE_BYTES = 5_000_000;

/**
 * What a file of `writePlanBundle` holds, also when it was unpacked and packed again meanwhile: in a folder, deflated, with
 * a system's hidden files beside it. The plan's JSON is not looked at.
 * Throws MeshError: empty-file, truncated (cut off or damaged), unknown-format (no archive, no plan or no scan in it), too-large;
 * and the abort reason of the checkpoint's signal, unchanged.
 */
export async function readPlanBundle(
  bytes: ArrayBuffer | Uint8Array,
  fileName: string,
  checkpoint: Checkpoint = new Checkpoint(),
  maxUnpackedBytes: number = MAX_UNPACKED_BYTES,
): Promise<PlanBundle> {
  const file = new Uint8Array(bytes);
  refuseNoArchive(file, fileName);
  const most = Math.min(maxUnpackedBytes, Math.max(FREE_BYTES, MOST_SHARE * file.length));
  const archive = new ZipArchive(file, most);
  const names = archive.names.filter(isOfTheJob);
  const planName = names.find((name) => baseOf(name).toLowerCase() === BUNDLED_PLAN);
  if (planName === undefined) {
    throw new MeshError(
      'unknown-format',
      `There is no ${BUNDLED_PLAN} in ${quoteText(fileName)}, so it is not a plan with its scan. Save it again from the page that has the plan.`,
    );
  }
  const pictureName = names.find((name) => baseOf(name).toLowerCase() === BUNDLED_PICTURE);
  const scans = names.filter((name) => name !== planName && name !== pictureName);
  if (scans.length !== 1) {
    const what =
      scans.length === 0 ? 'no scan' : `${scans.length} files beside the plan, and only one can be its scan`;
    throw new MeshError(
      'unknown-format',
      `There ${scans.length > 1 ? 'are' : 'is'} ${what} in ${quoteText(fileName)}. Save it again from the page that has the plan.`,
    );
  }
  const planBytes = await readWhole(archive, planName, MAX_PLAN_BYTES, checkpoint);
  const scanBytes = await readWhole(archive, scans[0], most, checkpoint);
  if (scanBytes.byteLength === 0) {
    throw new MeshError(
      'empty-file',
      `The scan in ${quoteText(fileName)} is empty (0 bytes). Save the plan again.`,
    );
  }
  return {
    planText: new TextDecoder().decode(planBytes),
    scanName: safeFileName(scans[0]),
    scanBytes,
    picture: pictureName ? await readPicture(archive, pictureName, checkpoint) : null,
  };
}

function refuseNoArchive(file: Uint8Array, fileName: string): void {
  if (file.length === 0) {
    throw new MeshError('empty-file', `${quoteText(fileName)} is empty (0 bytes). Copy or save it again.`, {
      byte: 0,
    });
  }
  // "PK": every zip archive begins with it (APPNOTE 4.3.7).
  if (file[0] !== 0x50 || file[1] !== 0x4b) {
    throw new MeshError(
      'unknown-format',
      `${quoteText(fileName)} is no plan with its scan: it does not begin as a zip archive does (byte 0). Save it again from the page that has the plan.`,
      { byte: 0 },
    );
  }
}

/** Not a folder, and not what a system hides beside files when it packs them. */
function isOfTheJob(name: string): boolean {
  return !name.endsWith('/') && !/(^|[/\\])(\.|__MACOSX[/\\])/.test(name);
}

function baseOf(name: string): string {
  return name.split(/[/\\]/).at(-1) ?? '';
}

async function readWhole(
  archive: ZipArchive,
  name: string,
  maxBytes: number,
  checkpoint: Checkpoint,
): Promise<ArrayBuffer> {
  const pieces: Uint8Array[] = [];
  let size = 0;
  await archive.read(
    name,
    (piece) => {
      size += piece.length;
      if (size > maxBytes) {
        throw new MeshError('too-large', `${quoteText(name)} in the file is larger than ${maxBytes} bytes.`);
      }
      // A piece is only good until this returns.
      pieces.push(piece.slice());
    },
    checkpoint,
  );
  const whole = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole.buffer;
}

/** The picture is a comfort: a broken one, or one too large, is left out. */
async function readPicture(archive: ZipArchive, name: string, cp: Checkpoint): Promise<ArrayBuffer | null> {
  try {
    return await readWhole(archive, name, MAX_PICTURE_BYTES, cp);
  } catch (error) {
    if (error instanceof MeshError) return null;
    throw error;
  }
}
