/**
 * Points of S, each with its triangle, that stand for S where only the nearest triangle is sought and not yet the nearest
 * point. Coordinates in cell edges, whole numbers at the cells' centres.
 */
export class SampleCloud {
  count = 0;
  /** capacity x 3. Float32: they choose where a walk starts, nothing is measured by them. */
  points: Float32Array;
  /** capacity: triangle in the surface's own order. */
  tris: Int32Array;

  /** `room`: for so many samples at first; more are made room for. */
  constructor(room = 1 << 14) {
    this.points = new Float32Array(3 * room);
    this.tris = new Int32Array(room);
  }

  /** Writes sample `n`, at most one beyond the last; it is kept when `count` includes it. */
  put(n: number, x: number, y: number, z: number, tri: number): void {
    if (n === this.tris.length) this.grow();
    this.points[3 * n] = x;
    this.points[3 * n + 1] = y;
    this.points[3 * n + 2] = z;
    this.tris[n] = tri;
  }

  private grow(): void {
    const points = new Float32Array(2 * this.points.length + 3);
    points.set(this.points);
    this.points = points;
    const tris = new Int32Array(2 * this.tris.length + 1);
    tris.set(this.tris);
    this.tris = tris;
  }
}
