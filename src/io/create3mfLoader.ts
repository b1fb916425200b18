import type { LoaderWithParser } from '@loaders.gl/loader-utils';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { read3mf } from './read3mf.ts';
import { sniff3mf } from './sniff3mf.ts';

/** Chosen for a file that is no text, that no loader claims by content, and whose name ends in .3mf. */
export const THREE_MF_MIME_TYPE = 'model/3mf';

/** A loaders.gl loader object for 3MF, made for one job. The package itself has none; ours stands on fflate and saxes. */
export function create3mfLoader(checkpoint: Checkpoint): LoaderWithParser<OpenedMesh, never> {
  return {
    name: '3MF',
    id: '3mf',
    module: '3mf',
    version: '1',
    worker: false,
    extensions: ['3mf'],
    mimeTypes: [THREE_MF_MIME_TYPE],
    binary: true,
    options: {},
    tests: [(buffer) => sniff3mf(new Uint8Array(buffer))],
    parse: (buffer) => read3mf(new Uint8Array(buffer), checkpoint),
  };
}
