import type { FacingGraph } from './SurfaceDiffusion.ts';

/** Rounds of relabelling; each makes islands fewer, so that a real surface needs two or three. */
const MOST_ROUNDS = 20;

/**
 * Makes every label one connected set of vertices, in place: of each label the largest connected set (by area) stays,
 * the others, from the small ones up, take the label that they border on most. A set with no neighbour of another label stays as it is. Labels
 * below zero are no part of it. O(n) a round.
 */
export function absorbIslands(graph: FacingGraph, labels: Int32Array, labelCount: number): void {
  const { starts, neighbours, areas, count } = graph;
  const set = new Int32Array(count);
  const stack = new Int32Array(count);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    set.fill(-1);
    const setArea: number[] = [];
    const setLabel: number[] = [];
    for (let seed = 0; seed < count; seed++) {
      if (set[seed] >= 0 || labels[seed] < 0) continue;
      const id = setArea.length;
      const label = labels[seed];
      let area = 0;
      let top = 0;
      stack[top++] = seed;
      set[seed] = id;
      while (top > 0) {
        const v = stack[--top];
        area += areas[v];
        for (let e = starts[v]; e < starts[v + 1]; e++) {
          const w = neighbours[e];
          if (set[w] >= 0 || labels[w] !== label) continue;
          set[w] = id;
          stack[top++] = w;
        }
      }
      setArea.push(area);
      setLabel.push(label);
    }
    const largest = new Int32Array(labelCount).fill(-1);
    for (let id = 0; id < setArea.length; id++) {
      const label = setLabel[id];
      if (largest[label] < 0 || setArea[id] > setArea[largest[label]]) largest[label] = id;
    }

    // What each island borders on.
    const contact = new Map<number, Float64Array>();
    for (let v = 0; v < count; v++) {
      const id = set[v];
      if (id < 0 || largest[setLabel[id]] === id) continue;
      for (let e = starts[v]; e < starts[v + 1]; e++) {
        const w = neighbours[e];
        if (labels[w] < 0 || labels[w] === setLabel[id]) continue;
        // Of two islands side by side only the smaller gives way, or they would change places for ever.
        const other = set[w];
        const holds = largest[setLabel[other]] === other;
        if (!holds && (setArea[other] < setArea[id] || (setArea[other] === setArea[id] && other > id)))
          continue;
        let sums = contact.get(id);
        if (!sums) {
          sums = new Float64Array(labelCount);
          contact.set(id, sums);
        }
        sums[labels[w]]++;
      }
    }
    if (contact.size === 0) return;
    const target = new Int32Array(setArea.length).fill(-1);
    for (const [id, sums] of contact) {
      let best = -1;
      for (let label = 0; label < labelCount; label++) {
        if (sums[label] > 0 && (best < 0 || sums[label] > sums[best])) best = label;
      }
      target[id] = best;
    }
    for (let v = 0; v < count; v++) if (set[v] >= 0 && target[set[v]] >= 0) labels[v] = target[set[v]];
  }
}
