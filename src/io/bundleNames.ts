/** What the plan is called in a file that holds plan and scan. */
export const BUNDLED_PLAN = 'plan.scute.json';
export const BUNDLED_PICTURE = 'picture.png';

/** Longest name of a scan in the file, characters; longer ones lose their middle's end, never their ending. */
const MAX_NAME = 100;

/**
 * The last part of a file's name, as it may safely stand in an archive and on any disk: no folders, no control characters,
 * nothing that a system takes for more than a letter. The ending stays, because it tells the format of an odd scan.
 */
export function safeFileName(name: string): string {
  const last = name.split(/[/\\]/).at(-1) ?? '';
  const plain = last.replace(/[\p{C}<>:"|?*]/gu, '_').replace(/^[.\s]+|[.\s]+$/g, '');
  const [ending = ''] = /\.[\p{L}\p{N}]{1,8}$/u.exec(plain) ?? [];
  const stem = plain.slice(0, plain.length - ending.length).slice(0, MAX_NAME - ending.length);
  const safe = `${stem === '' ? 'scan' : stem}${ending}`;
  const isTaken = [BUNDLED_PLAN, BUNDLED_PICTURE].includes(safe.toLowerCase());
  return isTaken ? `scan-${safe}` : safe;
}
