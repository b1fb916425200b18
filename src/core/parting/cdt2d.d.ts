declare module 'cdt2d' {
  /** Triangles (index triples) of the constrained Delaunay triangulation of planar points with constraint edges. */
  export default function cdt2d(
    points: readonly (readonly [number, number])[],
    edges: readonly (readonly [number, number])[],
    options?: {
      readonly delaunay?: boolean;
      readonly interior?: boolean;
      readonly exterior?: boolean;
      readonly infinity?: boolean;
    },
  ): [number, number, number][];
}
