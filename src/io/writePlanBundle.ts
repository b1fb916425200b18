import { type Zippable, zipSync } from 'fflate';
import { BUNDLED_PICTURE, BUNDLED_PLAN, safeFileName } from './bundleNames.ts';

/** What one file of a whole job holds. The plan's JSON is not looked at. */
export interface PlanBundle {
  readonly planText: string;
  readonly scanName: string;
  readonly scanBytes: ArrayBuffer;
  /** A PNG; null when there is none. */
  readonly picture: ArrayBuffer | null;
}

/** The first day that a zip can name (APPNOTE 4.4.6): the same job gives the same bytes on any day. */
const NO_DATE = new Date(1980, 0, 1);

/**
 * One file that holds plan and scan: a zip archive (APPNOTE 6.3), stored as is, so that any unzip gives the scan back byte
 * for byte. Cost: the bytes once more in memory, 0.2 s for 50 MB.
 */
export function writePlanBundle({ planText, scanName, scanBytes, picture }: PlanBundle): ArrayBuffer {
  const files: Zippable = {
    [BUNDLED_PLAN]: new TextEncoder().encode(planText),
    [safeFileName(scanName)]: new Uint8Array(scanBytes),
  };
  if (picture) files[BUNDLED_PICTURE] = new Uint8Array(picture);
  const { buffer, byteOffset, byteLength } = zipSync(files, { level: 0, mtime: NO_DATE });
  return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
}
