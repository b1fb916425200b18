import type { LoaderWithParser } from '@loaders.gl/loader-utils';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { readStlAscii } from './readStlAscii.ts';
import { readStlBinary } from './readStlBinary.ts';
import { sniffStl } from './sniffStl.ts';

/** Chosen for a file whose content no loader claims but whose name ends in .stl: a binary STL cut short looks like nothing. */
export const STL_MIME_TYPE = 'model/stl';

/**
 * A loaders.gl loader object for STL, binary and ASCII, told apart by content. It is made for one job, because the
 * package copies options (a checkpoint would lose its class on the way).
 */
export function createStlLoader(checkpoint: Checkpoint): LoaderWithParser<OpenedMesh, never> {
  return {
    name: 'STL',
    id: 'stl',
    module: 'stl',
    version: '1',
    worker: false,
    extensions: ['stl'],
    mimeTypes: [STL_MIME_TYPE],
    binary: true,
    options: {},
    tests: [(buffer) => sniffStl(new Uint8Array(buffer)) !== undefined],
    parse: (buffer) => {
      const bytes = new Uint8Array(buffer);
      return sniffStl(bytes) === 'ascii' ? readStlAscii(bytes, checkpoint) : readStlBinary(bytes, checkpoint);
    },
  };
}
