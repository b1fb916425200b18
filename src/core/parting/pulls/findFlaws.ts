import { EdgeTable } from '../../mesh/EdgeTable.ts';
import { triArea } from '../../mesh/measure.ts';
import type { TriMesh } from '../../mesh/TriMesh.ts';

/**
 * The vertices at which a mesh is not a surface: ends of edges of more than two faces or of two that run the same way,
 * corners of faces without area, vertices of more than one fan of faces. Each once, in rising order; none for a valid mesh.
 * O(n).
 */
export function findFlaws(mesh: TriMesh): number[] {
  const { indices, positions } = mesh;
  const vertCount = positions.length / 3;
  const isFlawed = new Uint8Array(vertCount);
  const table = new EdgeTable(indices);
  const { first, next } = table;
  const twins = new Int32Array(indices.length).fill(-1);
  for (let edge = 0; edge < table.count; edge++) {
    const a = first[edge];
    const b = next[a];
    if (b < 0) continue;
    if (next[b] >= 0 || indices[a] === indices[b]) {
      isFlawed[indices[a]] = 1;
      isFlawed[indices[a % 3 === 2 ? a - 2 : a + 1]] = 1;
    } else {
      twins[a] = b;
      twins[b] = a;
    }
  }
  const scratch = new Float64Array(3);
  const corners = new Int32Array(vertCount);
  const start = new Int32Array(vertCount).fill(-1);
  for (let c = 0; c < indices.length; c++) {
    const v = indices[c];
    corners[v]++;
    // A fan of a border vertex is walked from its border, so that one way round meets all of it.
    if (start[v] < 0 || twins[c] < 0) start[v] = c;
    if (c % 3 === 0 && !(triArea(mesh, (c / 3) | 0, scratch) > 0)) {
      for (let k = 0; k < 3; k++) isFlawed[indices[c + k]] = 1;
    }
  }
  for (let v = 0; v < vertCount; v++) {
    if (isFlawed[v] || start[v] < 0) continue;
    let met = 0;
    let c = start[v];
    do {
      met++;
      // The half-edge that ends at v in the same face; its opposite starts at v in the next face.
      c = twins[c % 3 === 0 ? c + 2 : c - 1];
    } while (c >= 0 && c !== start[v] && met <= corners[v]);
    if (met !== corners[v]) isFlawed[v] = 1;
  }
  const flaws: number[] = [];
  for (let v = 0; v < vertCount; v++) if (isFlawed[v]) flaws.push(v);
  return flaws;
}
