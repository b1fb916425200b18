import type { LoaderWithParser } from '@loaders.gl/loader-utils';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { readObj } from './readObj.ts';
import { sniffObj } from './sniffObj.ts';

/** Chosen for a text that no loader claims and whose name ends in .obj, so that what is wrong with it is said. */
export const OBJ_MIME_TYPE = 'model/obj';

/**
 * A loaders.gl loader object for Wavefront OBJ, made for one job, around our own reader. The package's reader (4.4.5) is not
 * used: it splits every polygon as a fan, which is wrong for hollow ones; takes "nan", missing numbers and vertices that are
 * not there without a word; mixes the corners of lines and points among those of triangles; and neither pauses nor says which
 * line is wrong. test/io/readersBesidePackage.test.ts shows each, and holds both side by side where the package is right.
 */
export function createObjLoader(checkpoint: Checkpoint): LoaderWithParser<OpenedMesh, never> {
  return {
    name: 'OBJ',
    id: 'obj',
    module: 'obj',
    version: '1',
    worker: false,
    extensions: ['obj'],
    mimeTypes: [OBJ_MIME_TYPE],
    binary: true,
    options: {},
    tests: [(buffer) => sniffObj(new Uint8Array(buffer))],
    parse: (buffer) => readObj(new Uint8Array(buffer), checkpoint),
  };
}
