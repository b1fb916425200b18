import ManifoldModule, { type Manifold, type ManifoldToplevel } from 'manifold-3d';
import type { TriMesh, Vec3 } from '../../src/core/mesh/TriMesh.ts';

/** The general geometry library manifold-3d, as an independent reference and as a maker of hulls and unions. */
let loading: Promise<ManifoldToplevel> | undefined;

export function loadManifold(): Promise<ManifoldToplevel> {
  loading ??= ManifoldModule().then((wasm) => {
    wasm.setup();
    return wasm;
  });
  return loading;
}

/** The mesh as a solid of the library, which takes single precision. The caller calls `delete()`. */
export async function toManifold(mesh: TriMesh): Promise<Manifold> {
  const { Manifold: Solid, Mesh } = await loadManifold();
  return Solid.ofMesh(
    new Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(mesh.positions),
      triVerts: mesh.indices.slice(),
    }),
  );
}

/** A solid of the library as a mesh; deletes the solid. */
export function fromManifold(solid: Manifold): TriMesh {
  const mesh = solid.getMesh();
  const { numProp, vertProperties } = mesh;
  const count = vertProperties.length / numProp;
  const positions = new Float64Array(3 * count);
  for (let v = 0; v < count; v++) {
    for (let k = 0; k < 3; k++) positions[3 * v + k] = vertProperties[v * numProp + k];
  }
  const indices = Uint32Array.from(mesh.triVerts);
  solid.delete();
  return { positions, indices };
}

/** Convex hull of points. */
export async function hullOf(points: readonly Vec3[]): Promise<TriMesh> {
  const { Manifold: Solid } = await loadManifold();
  return fromManifold(Solid.hull(points.map(([x, y, z]) => [x, y, z] as [number, number, number])));
}

/** Union of two closed meshes. */
export async function unionOf(a: TriMesh, b: TriMesh): Promise<TriMesh> {
  const [first, second] = [await toManifold(a), await toManifold(b)];
  const both = first.add(second);
  first.delete();
  second.delete();
  return fromManifold(both);
}

/** Hull of random points in a box about the origin, each side 0.4 to 1 of `size`; the same for the same `random`. */
export function randomHull(random: () => number, size: number, pointCount: number): Promise<TriMesh> {
  const side = [0, 1, 2].map(() => size * (0.4 + 0.6 * random()));
  return hullOf(
    Array.from({ length: pointCount }, () => side.map((s) => s * (random() - 0.5)) as unknown as Vec3),
  );
}

/** As `randomHull`, the points with their mirror images in z = 0: its upper half stands upright on the board. */
export function randomMirroredHull(random: () => number, size: number, pointCount: number): Promise<TriMesh> {
  const side = [0, 1, 2].map(() => size * (0.4 + 0.6 * random()));
  const points: Vec3[] = [];
  for (let n = 0; n < pointCount; n++) {
    const [x, y, z] = side.map((s) => s * (random() - 0.5));
    points.push([x, y, z], [x, y, -z]);
  }
  return hullOf(points);
}
