import type { PieceSolid } from '../core/shell/pieceSolids.ts';
import { writeStl } from '../io/writeStl.ts';

/** Letters and figures of a piece's name that its file keeps; with the rest well below what file systems take. */
const MOST_NAME_LETTERS = 40;

/** The pieces as binary STL in millimetres, by file name: piece-A-front.stl and so on. */
export function solidFiles(pieces: readonly PieceSolid[]): Readonly<Record<string, Uint8Array>> {
  const files: Record<string, Uint8Array> = {};
  const taken = new Set<string>();
  for (const { id, name, mesh } of pieces) {
    const stem = ['piece', safeWord(id), safeWord(name)].filter((word) => word !== '').join('-');
    let file = `${stem}.stl`;
    // Many file systems do not tell capitals apart.
    for (let n = 2; taken.has(file.toLowerCase()); n++) file = `${stem}-${n}.stl`;
    taken.add(file.toLowerCase());
    files[file] = writeStl(mesh, `shell piece ${safeWord(id)}, millimetres, board frame, z up`);
  }
  return files;
}

/** Letters and figures of any script, all else a single hyphen. */
function safeWord(text: string): string {
  const letters = Array.from(
    text
      .normalize('NFC')
      .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
      .replace(/^-+/, ''),
  );
  return letters.slice(0, MOST_NAME_LETTERS).join('').replace(/-+$/, '');
}
