/** Nodes of the lattice at most: 3 M of them hold 40 MB. Coarser spacing is taken where that does not do. */
const MOST_NODES = 3e6;
/** How far the points themselves mark nodes, in spacings: the wall of inner nodes that the wave may not pass is that thick. */
const SEED_REACH = 2;

/**
 * How far the outside of the shell is from any point over it: D(x) = the least of |x - p| - height(p) over the ground's
 * points, on a lattice of nodes that each keep the point it comes from. So D is exact but for the choice of the point; a place is asked
 * with the points of the eight nodes round it. Nodes are found by a wave from the surface outward, up to `reachMm`.
 */
export class TrowelReach {
  readonly spacingMm: number;
  /** Point by node; -1: the wave did not come here. */
  private readonly pointOf: Int32Array;
  private readonly origin: readonly [number, number, number];
  private readonly size: readonly [number, number, number];

  /** `points`, `normals` count x 3, `heightsMm` by point: how far the shell's outside lies over it. */
  constructor(
    private readonly points: Float64Array,
    private readonly normals: Float64Array,
    private readonly heightsMm: Float64Array,
    spacingMm: number,
    private readonly reachMm: number,
  ) {
    const min = [Infinity, Infinity, Infinity];
    const max = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < points.length; i++) {
      if (points[i] < min[i % 3]) min[i % 3] = points[i];
      if (points[i] > max[i % 3]) max[i % 3] = points[i];
    }
    let mostHeight = 0;
    for (const height of heightsMm) mostHeight = Math.max(mostHeight, height);
    const padMm = mostHeight + reachMm + 2 * spacingMm;
    const spans = min.map((least, k) => max[k] - least + 2 * padMm);
    this.spacingMm = Math.max(spacingMm, Math.cbrt((spans[0] * spans[1] * spans[2]) / MOST_NODES));
    this.origin = [min[0] - padMm, min[1] - padMm, min[2] - padMm];
    this.size = spans.map((span) => Math.ceil(span / this.spacingMm) + 1) as [number, number, number];
    this.pointOf = new Int32Array(this.size[0] * this.size[1] * this.size[2]).fill(-1);
    this.spread();
  }

  /** D at a place, mm: from the points of the eight nodes round it and `own` (-1: none). -Infinity where no outer node is near. */
  distance(x: number, y: number, z: number, own: number): number {
    this.find(x, y, z);
    return own < 0 ? this.found.distanceMm : Math.min(this.found.distanceMm, this.far(own, x, y, z));
  }

  /** The point that `distance` last came from, -1: none. Of the lattice's own. */
  readonly found = { point: -1, distanceMm: Number.NEGATIVE_INFINITY };

  find(x: number, y: number, z: number): void {
    const { found, origin, size, spacingMm, pointOf } = this;
    found.point = -1;
    found.distanceMm = Number.NEGATIVE_INFINITY;
    const i = Math.floor((x - origin[0]) / spacingMm);
    const j = Math.floor((y - origin[1]) / spacingMm);
    const k = Math.floor((z - origin[2]) / spacingMm);
    if (i < 0 || j < 0 || k < 0 || i + 1 >= size[0] || j + 1 >= size[1] || k + 1 >= size[2]) return;
    const node = i + size[0] * (j + size[1] * k);
    let least = Infinity;
    let last = -1;
    for (let corner = 0; corner < 8; corner++) {
      const point =
        pointOf[node + (corner & 1) + (corner & 2 ? size[0] : 0) + (corner & 4 ? size[0] * size[1] : 0)];
      if (point < 0 || point === last) continue;
      last = point;
      const distance = this.far(point, x, y, z);
      if (distance < least) {
        least = distance;
        found.point = point;
      }
    }
    // What lies behind the point that it is nearest to lies in the body.
    if (found.point < 0 || this.along(found.point, x, y, z) < 0) return;
    found.distanceMm = least;
  }

  /** Calls for each outer node with D between the bounds: its place and the point it comes from. */
  eachBetween(
    fromMm: number,
    toMm: number,
    visit: (x: number, y: number, z: number, point: number) => void,
  ): void {
    const { origin, size, spacingMm, pointOf } = this;
    for (let k = 0, node = 0; k < size[2]; k++) {
      for (let j = 0; j < size[1]; j++) {
        for (let i = 0; i < size[0]; i++, node++) {
          const point = pointOf[node];
          if (point < 0) continue;
          const x = origin[0] + i * spacingMm;
          const y = origin[1] + j * spacingMm;
          const z = origin[2] + k * spacingMm;
          const distance = this.far(point, x, y, z);
          if (distance < fromMm || distance > toMm || this.along(point, x, y, z) < 0) continue;
          visit(x, y, z, point);
        }
      }
    }
  }

  private far(point: number, x: number, y: number, z: number): number {
    const dx = x - this.points[3 * point];
    const dy = y - this.points[3 * point + 1];
    const dz = z - this.points[3 * point + 2];
    return Math.sqrt(dx * dx + dy * dy + dz * dz) - this.heightsMm[point];
  }

  private along(point: number, x: number, y: number, z: number): number {
    return (
      (x - this.points[3 * point]) * this.normals[3 * point] +
      (y - this.points[3 * point + 1]) * this.normals[3 * point + 1] +
      (z - this.points[3 * point + 2]) * this.normals[3 * point + 2]
    );
  }

  /** Marks the nodes round the points, then hands the points on from node to node, outward only. */
  private spread(): void {
    const { points, pointOf, size, origin, spacingMm } = this;
    const [ni, nj] = size;
    const nodes = pointOf.length;
    const distance = new Float32Array(nodes).fill(Infinity);
    const isWaiting = new Uint8Array(nodes);
    const queue = new Int32Array(nodes);
    let head = 0;
    let waiting = 0;
    const push = (node: number): void => {
      if (isWaiting[node] === 1) return;
      isWaiting[node] = 1;
      queue[(head + waiting) % nodes] = node;
      waiting++;
    };
    for (let n = 0; n < points.length / 3; n++) {
      const lo = [0, 1, 2].map((a) =>
        Math.max(0, Math.ceil((points[3 * n + a] - origin[a]) / spacingMm - SEED_REACH)),
      );
      const hi = [0, 1, 2].map((a) =>
        Math.min(size[a] - 1, Math.floor((points[3 * n + a] - origin[a]) / spacingMm + SEED_REACH)),
      );
      for (let k = lo[2]; k <= hi[2]; k++) {
        for (let j = lo[1]; j <= hi[1]; j++) {
          for (let i = lo[0]; i <= hi[0]; i++) {
            const node = i + ni * (j + nj * k);
            const d = this.far(
              n,
              origin[0] + i * spacingMm,
              origin[1] + j * spacingMm,
              origin[2] + k * spacingMm,
            );
            if (d >= distance[node]) continue;
            distance[node] = d;
            pointOf[node] = n;
            push(node);
          }
        }
      }
    }
    const mostMm = this.reachMm + 2 * spacingMm;
    while (waiting > 0) {
      const node = queue[head];
      head = (head + 1) % nodes;
      waiting--;
      isWaiting[node] = 0;
      const point = pointOf[node];
      const i = node % ni;
      const j = Math.floor(node / ni) % nj;
      const k = Math.floor(node / (ni * nj));
      const x = origin[0] + i * spacingMm;
      const y = origin[1] + j * spacingMm;
      const z = origin[2] + k * spacingMm;
      if (distance[node] > mostMm || this.along(point, x, y, z) < 0) continue;
      for (let dk = -1; dk <= 1; dk++) {
        if (k + dk < 0 || k + dk >= size[2]) continue;
        for (let dj = -1; dj <= 1; dj++) {
          if (j + dj < 0 || j + dj >= nj) continue;
          for (let di = -1; di <= 1; di++) {
            if (i + di < 0 || i + di >= ni) continue;
            const next = node + di + ni * (dj + nj * dk);
            if (pointOf[next] === point) continue;
            const d = this.far(point, x + di * spacingMm, y + dj * spacingMm, z + dk * spacingMm);
            // A hair less, so that two points that are equally far do not take turns.
            if (d >= distance[next] - 1e-6 * spacingMm) continue;
            distance[next] = d;
            pointOf[next] = point;
            push(next);
          }
        }
      }
    }
  }
}
