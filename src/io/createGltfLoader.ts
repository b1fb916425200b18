import type { LoaderWithParser } from '@loaders.gl/loader-utils';
import type { Checkpoint } from '../core/checkpoint.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { readGltf } from './readGltf.ts';
import { sniffGltf } from './sniffGltf.ts';

/** Chosen for a file that is no text, that no loader claims by content, and whose name ends in .glb. */
export const GLB_MIME_TYPE = 'model/gltf-binary';

/**
 * A loaders.gl loader object for glTF 2.0 in one file, made for one job, around our own reader. The package's reader (4.4.5)
 * is not used: it fetches what the file names, and a decoder from a server far away; believes the counts and indices of the
 * file, so that a damaged one gives a wrong mesh or an error about something else; leaves it to its caller to put the nodes'
 * meshes in their places; and knows no way to pause. test/io/readersBesidePackage.test.ts holds both side by side.
 */
export function createGltfLoader(checkpoint: Checkpoint): LoaderWithParser<OpenedMesh, never> {
  return {
    name: 'glTF',
    id: 'gltf',
    module: 'gltf',
    version: '1',
    worker: false,
    extensions: ['glb', 'gltf'],
    mimeTypes: [GLB_MIME_TYPE],
    binary: true,
    options: {},
    tests: [(buffer) => sniffGltf(new Uint8Array(buffer)) !== undefined],
    parse: (buffer) => readGltf(new Uint8Array(buffer), checkpoint),
  };
}
