import type { LoaderWithParser } from '@loaders.gl/loader-utils';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { isPly, parsePlyHeader } from './plyHeader.ts';
import { readPlyAscii } from './readPlyAscii.ts';
import { readPlyBinary } from './readPlyBinary.ts';
import { isReadRightByPackage, readPlyWithPackage } from './readPlyWithPackage.ts';

/** Chosen for a file that is no text, that no loader claims by content, and whose name ends in .ply. */
export const PLY_MIME_TYPE = 'model/ply';

/**
 * A loaders.gl loader object for PLY, made for one job. The header is ours; the data goes to @loaders.gl/ply when the
 * header shows that it reads them right, and through our own readers otherwise.
 */
export function createPlyLoader(checkpoint: Checkpoint): LoaderWithParser<OpenedMesh, never> {
  return {
    name: 'PLY',
    id: 'ply',
    module: 'ply',
    version: '1',
    worker: false,
    extensions: ['ply'],
    mimeTypes: [PLY_MIME_TYPE],
    binary: true,
    options: {},
    tests: [(buffer) => isPly(new Uint8Array(buffer))],
    parse: (buffer) => readPly(buffer, checkpoint),
  };
}

async function readPly(buffer: ArrayBuffer, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const bytes = new Uint8Array(buffer);
  const header = parsePlyHeader(bytes);
  if (header.format === 'ascii') return readPlyAscii(bytes, header, checkpoint);
  if (isReadRightByPackage(header, bytes.length)) {
    const mesh = await readPlyWithPackage(buffer, header);
    const order = header.format === 'binary_little_endian' ? 'little' : 'big';
    if (mesh !== undefined) return { mesh, format: `PLY binary ${order}-endian`, notes: [] };
  }
  return readPlyBinary(bytes, header, checkpoint);
}
