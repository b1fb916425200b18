import type { Vec3 } from '../../../core/mesh/TriMesh.ts';
import type { MapPicture, PiecePicture } from '../../../jobs/protocol.ts';

export interface MapReading {
  readonly value: number;
  /** Index of the piece. */
  readonly piece: number;
}

/** A point counts as inside a triangle that it misses by this share of it: pictures are rounded to 32 bits. */
const SLACK = 1e-3;

/** Reads a map at a spot of the rubber. Made once for a map; the first reading looks through all triangles once. */
export class MapReader {
  /** By triangle of the rubber: where its parts begin in `parts`, those of the next triangle where they end. */
  private first: Uint32Array | null = null;
  /** Piece and triangle of each part, two numbers. */
  private parts = new Uint32Array(0);

  constructor(
    private readonly map: MapPicture,
    private readonly pieces: readonly Pick<PiecePicture, 'rubber'>[],
  ) {}

  /**
   * Value of the map at a point of the rubber, linear over the triangle; null off all pieces.
   * @param tri triangle of the whole rubber
   * @param piece looked for on this piece alone; null: on any
   */
  read(point: Vec3, tri: number, piece: number | null): MapReading | null {
    const first = this.first ?? this.index();
    if (tri + 1 >= first.length) return null;
    let best: MapReading | null = null;
    let bestMiss = Infinity;
    for (let i = first[tri]; i < first[tri + 1]; i++) {
      const part = this.parts[2 * i];
      if (piece !== null && part !== piece) continue;
      const { value, miss } = this.readPart(point, part, this.parts[2 * i + 1]);
      if (miss < bestMiss) {
        bestMiss = miss;
        best = { value, piece: part };
      }
      if (miss < SLACK) break;
    }
    return best;
  }

  private index(): Uint32Array {
    const { pieces } = this.map;
    let triCount = 0;
    let partCount = 0;
    for (const { tris } of pieces) {
      partCount += tris.length;
      for (let t = 0; t < tris.length; t++) if (tris[t] >= triCount) triCount = tris[t] + 1;
    }
    const first = new Uint32Array(triCount + 1);
    for (const { tris } of pieces) for (let t = 0; t < tris.length; t++) first[tris[t] + 1]++;
    for (let t = 0; t < triCount; t++) first[t + 1] += first[t];
    const next = first.slice(0, triCount);
    this.parts = new Uint32Array(2 * partCount);
    pieces.forEach(({ tris }, n) => {
      for (let t = 0; t < tris.length; t++) {
        const at = 2 * next[tris[t]]++;
        this.parts[at] = n;
        this.parts[at + 1] = t;
      }
    });
    this.first = first;
    return first;
  }

  /** Value at the point, and by how much it lies outside the part, share of the part. */
  private readPart([x, y, z]: Vec3, piece: number, tri: number): { value: number; miss: number } {
    const { positions: p, indices } = this.pieces[piece].rubber;
    const { corners } = this.map.pieces[piece];
    const a = 3 * indices[3 * tri];
    const b = 3 * indices[3 * tri + 1];
    const c = 3 * indices[3 * tri + 2];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const w = [x - p[a], y - p[a + 1], z - p[a + 2]];
    const dot = (m: number[], n: number[]) => m[0] * n[0] + m[1] * n[1] + m[2] * n[2];
    const det = dot(u, u) * dot(v, v) - dot(u, v) ** 2;
    const s = det > 0 ? (dot(w, u) * dot(v, v) - dot(w, v) * dot(u, v)) / det : 0;
    const t = det > 0 ? (dot(w, v) * dot(u, u) - dot(w, u) * dot(u, v)) / det : 0;
    const weights = [1 - s - t, s, t];
    const held = weights.map((weight) => Math.min(1, Math.max(0, weight)));
    const total = held[0] + held[1] + held[2];
    let value = 0;
    for (let k = 0; k < 3; k++) if (held[k] > SLACK) value += (held[k] / total) * corners[3 * tri + k];
    return { value, miss: det > 0 ? Math.max(0, -Math.min(...weights)) : Infinity };
  }
}
