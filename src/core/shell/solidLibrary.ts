import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import type { TriMesh } from '../mesh/TriMesh.ts';

/**
 * Heights within this of the board count as on it, mm. The library works in single precision, whose step is 6e-5 mm a
 * metre from the origin; no part of a shell is thinner.
 */
const ON_BOARD_MM = 1e-4;

/**
 * A fresh instance of manifold-3d, fetched from the program's own files on the first use. The memory of WebAssembly never
 * shrinks, so that each task takes an instance of its own, which goes with it.
 */
export async function loadSolids(): Promise<ManifoldToplevel> {
  const { default: load } = await import('manifold-3d');
  const library = await load();
  library.setup();
  return library;
}

/** The library's solid of a mesh, to be deleted by the caller. Throws what `fail` makes of the library's complaint when it is none. */
export function solidOf(library: ManifoldToplevel, mesh: TriMesh, fail: (said: string) => Error): Manifold {
  let solid: Manifold;
  try {
    solid = new library.Manifold(
      new library.Mesh({
        numProp: 3,
        vertProperties: Float32Array.from(mesh.positions),
        triVerts: mesh.indices,
      }),
    );
  } catch (error) {
    throw fail(error instanceof Error ? error.message : String(error));
  }
  try {
    checkSolid(solid, fail);
  } catch (error) {
    solid.delete();
    throw error;
  }
  return solid;
}

/** Throws what `fail` makes of it when the library says that a solid is in error, or empty. */
export function checkSolid(solid: Manifold, fail: (said: string) => Error): void {
  const status = solid.status();
  if (status === 'NoError' && !solid.isEmpty()) return;
  throw fail(status === 'NoError' ? 'it is empty' : status);
}

/** A solid's surface; every coordinate is a number of single precision. */
export function meshOf(solid: Manifold): TriMesh {
  const { numProp, vertProperties, triVerts } = solid.getMesh();
  const count = vertProperties.length / numProp;
  const positions = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    for (let k = 0; k < 3; k++) positions[3 * v + k] = vertProperties[numProp * v + k];
  }
  return { positions, indices: Uint32Array.from(triVerts) };
}

/** Rounding leaves vertices of the base a hair off the board: they are set on it. Writes to the mesh, which is the caller's. */
export function flattenBase(mesh: TriMesh): TriMesh {
  const { positions } = mesh;
  for (let z = 2; z < positions.length; z += 3) if (Math.abs(positions[z]) <= ON_BOARD_MM) positions[z] = 0;
  return mesh;
}
