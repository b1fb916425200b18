import { renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { serialisePlan } from '../../src/core/plan/serialisePlan.ts';
import { writePly } from '../../src/io/writePly.ts';
import { demoPlan } from './demoPlan.ts';
import { makeFishShape } from './fishShape.ts';
import { type DemoMesh, polygoniseField } from './polygoniseField.ts';

/** Gives some sixty thousand triangles: fine enough for the scales, about a megabyte on disk. */
const CELL_MM = 2.25;

const mesh = keepLargestPart(polygoniseField(makeFishShape(), [-135, -90, 0], [112, 90, 300], CELL_MM));
checkMesh(mesh);
writeWhole(
  'fountain-fish.ply',
  writePly(mesh, { comment: 'a fountain fish made by assets/demo/generate.ts, millimetres, z up' }),
);
writeWhole('fountain-fish.scute.json', new TextEncoder().encode(serialisePlan(demoPlan())));
console.log(`${mesh.indices.length / 3} triangles, ${mesh.positions.length / 3} vertices`);

/** Writes beside the target, then renames, so that a broken run leaves the old file whole. */
function writeWhole(name: string, bytes: Uint8Array): void {
  const target = fileURLToPath(new URL(`./${name}`, import.meta.url));
  writeFileSync(`${target}.part`, bytes);
  renameSync(`${target}.part`, target);
}

/** Drops crumbs of the field; the demo is one piece. */
function keepLargestPart(given: DemoMesh): DemoMesh {
  const count = given.positions.length / 3;
  const parent = Uint32Array.from({ length: count }, (_, v) => v);
  const find = (v: number): number => {
    let root = v;
    while (parent[root] !== root) root = parent[root];
    while (parent[v] !== root) [v, parent[v]] = [parent[v], root];
    return root;
  };
  for (let i = 0; i < given.indices.length; i += 3) {
    parent[find(given.indices[i])] = find(given.indices[i + 1]);
    parent[find(given.indices[i + 1])] = find(given.indices[i + 2]);
  }
  const sizes = new Map<number, number>();
  for (let v = 0; v < count; v++) sizes.set(find(v), (sizes.get(find(v)) ?? 0) + 1);
  const largest = [...sizes].sort((a, b) => b[1] - a[1])[0][0];
  const renumbered = new Int32Array(count).fill(-1);
  const positions: number[] = [];
  for (let v = 0; v < count; v++) {
    if (find(v) !== largest) continue;
    renumbered[v] = positions.length / 3;
    positions.push(given.positions[v * 3], given.positions[v * 3 + 1], given.positions[v * 3 + 2]);
  }
  const indices = [...given.indices].map((v) => renumbered[v]).filter((v) => v >= 0);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** Throws unless every edge has two triangles, or one and lies on the board, and triangles round a vertex form one fan. */
function checkMesh({ positions, indices }: DemoMesh): void {
  const edges = new Map<number, number>();
  const count = positions.length / 3;
  const key = (a: number, b: number): number => a * count + b;
  for (let i = 0; i < indices.length; i += 3) {
    for (let c = 0; c < 3; c++) {
      const edge = key(indices[i + c], indices[i + ((c + 1) % 3)]);
      if (edges.has(edge)) throw new Error('An edge is used twice in one direction.');
      edges.set(edge, i / 3);
    }
  }
  let open = 0;
  for (const edge of edges.keys()) {
    const a = Math.floor(edge / count);
    const b = edge % count;
    if (edges.has(key(b, a))) continue;
    open++;
    if (positions[a * 3 + 2] !== 0 || positions[b * 3 + 2] !== 0) {
      throw new Error(`An open edge lies ${positions[a * 3 + 2]} mm above the board.`);
    }
  }
  const fans = new Uint32Array(count);
  const corners = new Uint32Array(count);
  for (const v of indices) corners[v]++;
  const seen = new Uint8Array(indices.length);
  for (let start = 0; start < indices.length; start++) {
    if (seen[start]) continue;
    // Walks round the corner's vertex both ways from here; a second start at the same vertex is a second fan.
    const v = indices[start];
    fans[v]++;
    for (const turn of [1, 2]) {
      let corner = start;
      for (;;) {
        seen[corner] = 1;
        const tri = corner - (corner % 3);
        const other = indices[tri + ((corner - tri + turn) % 3)];
        const next = edges.get(turn === 1 ? key(other, v) : key(v, other));
        if (next === undefined) break;
        const at = [0, 1, 2].find((c) => indices[next * 3 + c] === v) ?? 0;
        if (seen[next * 3 + at]) break;
        corner = next * 3 + at;
      }
    }
  }
  for (let v = 0; v < count; v++) if (fans[v] !== 1) throw new Error(`Vertex ${v} joins ${fans[v]} sheets.`);
  if (new Set(indices).size !== count) throw new Error('A vertex is in no triangle.');
  console.log(`one piece, ${open} open edges, all on the board`);
}
