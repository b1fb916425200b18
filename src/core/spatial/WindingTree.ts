import type { TriMesh } from '../mesh/TriMesh.ts';

/** Triangles in a leaf. */
const LEAF_TRIS = 8;
/** A node farther than this many of its radii is replaced by its dipole (Barill et al. 2018 use 2). */
const FAR_RADII = 2;
const DEEPEST = 64;

/**
 * Generalised winding number: 1 inside, 0 outside a closed mesh wound outward, a fraction near holes.
 *
 * Sources: Jacobson, Kavan and Sorkine-Hornung 2013 (definition); Barill et al. 2018 (dipoles of far clusters);
 * Van Oosterom and Strackee 1983 (solid angle of a triangle). With `mirrorInBoard` the mirror image in z = 0 is added,
 * wound to stay outward, so that a mesh open on the board counts as closed there.
 */
export class WindingTree {
  private readonly positions: Float64Array;
  private readonly tris: Uint32Array;
  private readonly corners: Uint32Array;
  /** Per node: centre x y z, radius, dipole x y z (area-weighted normal). */
  private readonly data: number[] = [];
  /** Per node: first, count, left child (right is left + 1), or -1. */
  private readonly first: number[] = [];
  private readonly count: number[] = [];
  private readonly child: number[] = [];
  private readonly stack = new Int32Array(2 * DEEPEST);

  constructor(
    mesh: TriMesh,
    private readonly options: { readonly mirrorInBoard: boolean },
  ) {
    this.positions = mesh.positions;
    this.corners = mesh.indices;
    const n = mesh.indices.length / 3;
    this.tris = new Uint32Array(n);
    for (let t = 0; t < n; t++) this.tris[t] = t;
    const centres = new Float64Array(3 * n);
    for (let t = 0; t < n; t++) {
      for (let k = 0; k < 3; k++) {
        centres[3 * t + k] =
          (this.positions[3 * mesh.indices[3 * t] + k] +
            this.positions[3 * mesh.indices[3 * t + 1] + k] +
            this.positions[3 * mesh.indices[3 * t + 2] + k]) /
          3;
      }
    }
    if (n > 0) {
      this.addNode(0, n);
      const open: [number, number][] = [[0, 0]];
      for (let at = open.pop(); at; at = open.pop()) {
        const [node, depth] = at;
        if (this.count[node] <= LEAF_TRIS || depth >= DEEPEST - 2) continue;
        const middle = this.split(centres, this.first[node], this.count[node]);
        const left = this.addNode(this.first[node], middle - this.first[node]);
        this.addNode(middle, this.first[node] + this.count[node] - middle);
        this.child[node] = left;
        open.push([left, depth + 1], [left + 1, depth + 1]);
      }
    }
  }

  windingNumber(x: number, y: number, z: number): number {
    const own = this.at(x, y, z);
    return this.options.mirrorInBoard ? own + this.at(x, y, -z) : own;
  }

  private at(x: number, y: number, z: number): number {
    if (this.count.length === 0) return 0;
    const { data, child, stack } = this;
    let sum = 0;
    let top = 0;
    stack[top++] = 0;
    while (top > 0) {
      const node = stack[--top];
      const d = 7 * node;
      const rx = data[d] - x;
      const ry = data[d + 1] - y;
      const rz = data[d + 2] - z;
      const r2 = rx * rx + ry * ry + rz * rz;
      const far = FAR_RADII * data[d + 3];
      if (r2 > far * far) {
        sum += (data[d + 4] * rx + data[d + 5] * ry + data[d + 6] * rz) / (r2 * Math.sqrt(r2));
      } else if (child[node] >= 0) {
        stack[top++] = child[node];
        stack[top++] = child[node] + 1;
      } else {
        for (let i = this.first[node]; i < this.first[node] + this.count[node]; i++)
          sum += this.solidAngle(this.tris[i], x, y, z);
      }
    }
    return sum / (4 * Math.PI);
  }

  private solidAngle(t: number, x: number, y: number, z: number): number {
    const { positions: p, corners } = this;
    const a = corners[3 * t] * 3;
    const b = corners[3 * t + 1] * 3;
    const c = corners[3 * t + 2] * 3;
    const ax = p[a] - x;
    const ay = p[a + 1] - y;
    const az = p[a + 2] - z;
    const bx = p[b] - x;
    const by = p[b + 1] - y;
    const bz = p[b + 2] - z;
    const cx = p[c] - x;
    const cy = p[c + 1] - y;
    const cz = p[c + 2] - z;
    const la = Math.sqrt(ax * ax + ay * ay + az * az);
    const lb = Math.sqrt(bx * bx + by * by + bz * bz);
    const lc = Math.sqrt(cx * cx + cy * cy + cz * cz);
    const det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    const den =
      la * lb * lc +
      (ax * bx + ay * by + az * bz) * lc +
      (bx * cx + by * cy + bz * cz) * la +
      (cx * ax + cy * ay + cz * az) * lb;
    return 2 * Math.atan2(det, den);
  }

  private addNode(first: number, count: number): number {
    const { positions: p, corners, tris } = this;
    let area = 0;
    const centre = [0, 0, 0];
    const dipole = [0, 0, 0];
    for (let i = first; i < first + count; i++) {
      const [a, b, c] = [0, 1, 2].map((k) => corners[3 * tris[i] + k] * 3);
      const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
      const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
      const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      const twice = Math.hypot(n[0], n[1], n[2]);
      area += twice;
      for (let k = 0; k < 3; k++) {
        dipole[k] += n[k] / 2;
        centre[k] += (twice * (p[a + k] + p[b + k] + p[c + k])) / 3;
      }
    }
    for (let k = 0; k < 3; k++) centre[k] = area > 0 ? centre[k] / area : p[corners[3 * tris[first]] * 3 + k];
    let radius = 0;
    for (let i = first; i < first + count; i++) {
      for (let k = 0; k < 3; k++) {
        const v = corners[3 * tris[i] + k] * 3;
        radius = Math.max(radius, Math.hypot(p[v] - centre[0], p[v + 1] - centre[1], p[v + 2] - centre[2]));
      }
    }
    this.data.push(...centre, radius, ...dipole);
    this.first.push(first);
    this.count.push(count);
    this.child.push(-1);
    return this.count.length - 1;
  }

  /** Halves the run at the middle of its longest side; at least one triangle to each half. */
  private split(centres: Float64Array, first: number, count: number): number {
    const { tris } = this;
    let axis = 0;
    let widest = -1;
    let cut = 0;
    for (let k = 0; k < 3; k++) {
      let lo = Infinity;
      let hi = -Infinity;
      for (let i = first; i < first + count; i++) {
        const v = centres[3 * tris[i] + k];
        if (v < lo) lo = v;
        if (v > hi) hi = v;
      }
      if (hi - lo > widest) {
        widest = hi - lo;
        axis = k;
        cut = (lo + hi) / 2;
      }
    }
    let i = first;
    let j = first + count - 1;
    while (i <= j) {
      if (centres[3 * tris[i] + axis] < cut) i++;
      else {
        const keep = tris[i];
        tris[i] = tris[j];
        tris[j] = keep;
        j--;
      }
    }
    return i === first || i === first + count ? first + (count >> 1) : i;
  }
}
