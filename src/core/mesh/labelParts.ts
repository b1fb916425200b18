/** Components joined by shared edges. */
export interface Parts {
  /** By triangle: the number of its component; components are numbered from 0 by their lowest triangle. */
  readonly parts: Int32Array;
  readonly partCount: number;
}

/**
 * Components joined by shared edges; see buildTwins for `twins`. O(n).
 *
 * Union-find with path halving, in the order of the triangles: neighbours are near in memory in most files, so this takes half
 * of what flooding takes. A root is the lowest triangle of its component, so that numbering the roots as they come numbers the
 * components by their lowest triangle.
 */
export function labelParts(twins: Int32Array): Parts {
  const count = twins.length / 3;
  const parent = new Int32Array(count);
  for (let t = 0; t < count; t++) parent[t] = t;
  let e = 0;
  for (let t = 0; t < count; t++) {
    let a = t;
    while (parent[a] !== a) a = parent[a] = parent[parent[a]];
    for (const end = e + 3; e < end; e++) {
      const o = twins[e];
      // Each pair is met from both its sides; once is enough.
      if (o < e) continue;
      let b = (o / 3) | 0;
      while (parent[b] !== b) b = parent[b] = parent[parent[b]];
      if (a < b) parent[b] = a;
      else if (b < a) a = parent[a] = b;
    }
  }
  // In place: a triangle's parent is never higher than the triangle, so it has its number by then.
  let partCount = 0;
  for (let t = 0; t < count; t++) parent[t] = parent[t] === t ? partCount++ : parent[parent[t]];
  return { parts: parent, partCount };
}
