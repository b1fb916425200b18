import type { FacingGraph } from './SurfaceDiffusion.ts';

/** Rounds of relabelling; each makes islands fewer, so that a real surface needs two or three. */
const MOST_ROUNDS = 20;

/**
 * Makes every label one connected set of vertices, in place: of each label the largest connected set (by area) stays,
 * the others, from the small ones up, take the label that they border on most. A set with no neighbour of another label stays as it is. Labels
 * below zero are no part of it. O(n), and what the sets have in common a round.
 */
export function absorbIslands(graph: FacingGraph, labels: Int32Array, labelCount: number): void {
  const { of, sets } = connectedSets(graph, labels);
  let hasChanged = false;
  for (let round = 0; round < MOST_ROUNDS && relabel(sets, labelCount); round++) hasChanged = true;
  if (!hasChanged) return;
  for (let v = 0; v < labels.length; v++) if (of[v] >= 0) labels[v] = rootOf(sets[of[v]]).label;
}

/** A connected set of vertices of one label. */
interface LabelSet {
  /** Place in the list, which is that of its first vertex; of sets that became one the lower. */
  readonly id: number;
  label: number;
  area: number;
  /** By the id of a set beside it the edges that lead there. */
  readonly contact: Map<number, number>;
  /** The set that it became part of. */
  into: LabelSet | null;
}

/** The connected sets by their first vertices, and by vertex the number of its own, -1 without label. */
function connectedSets(graph: FacingGraph, labels: Int32Array): { of: Int32Array; sets: LabelSet[] } {
  const { starts, neighbours, areas, count } = graph;
  const of = new Int32Array(count).fill(-1);
  const stack = new Int32Array(count);
  const sets: LabelSet[] = [];
  for (let seed = 0; seed < count; seed++) {
    if (of[seed] >= 0 || labels[seed] < 0) continue;
    const id = sets.length;
    const label = labels[seed];
    let area = 0;
    let top = 0;
    stack[top++] = seed;
    of[seed] = id;
    while (top > 0) {
      const v = stack[--top];
      area += areas[v];
      for (let e = starts[v]; e < starts[v + 1]; e++) {
        const w = neighbours[e];
        if (of[w] >= 0 || labels[w] !== label) continue;
        of[w] = id;
        stack[top++] = w;
      }
    }
    sets.push({ id, label, area, contact: new Map(), into: null });
  }
  for (let v = 0; v < count; v++) {
    for (let e = starts[v]; e < starts[v + 1]; e++) {
      const other = of[neighbours[e]];
      if (other === of[v] || other < 0 || of[v] < 0) continue;
      const { contact } = sets[of[v]];
      contact.set(other, (contact.get(other) ?? 0) + 1);
    }
  }
  return { of, sets };
}

/** Gives every island the label that it borders on most; false when none has a neighbour. */
function relabel(sets: readonly LabelSet[], labelCount: number): boolean {
  const largest = new Array<LabelSet | undefined>(labelCount);
  const live = sets.filter((set) => set.into === null);
  for (const set of live) {
    const { label, area } = set;
    if (area > (largest[label]?.area ?? Number.NEGATIVE_INFINITY)) largest[label] = set;
  }
  const targets = new Map<LabelSet, number>();
  for (const set of live) {
    if (largest[set.label] === set) continue;
    const sums = new Float64Array(labelCount);
    for (const [id, edges] of set.contact) {
      const other = rootOf(sets[id]);
      if (other.label === set.label) continue;
      // Of two islands side by side only the smaller gives way, or they would change places for ever.
      const givesWay = other.area < set.area || (other.area === set.area && other.id > set.id);
      if (largest[other.label] !== other && givesWay) continue;
      sums[other.label] += edges;
    }
    let best = 0;
    for (let label = 1; label < labelCount; label++) if (sums[label] > sums[best]) best = label;
    if (sums[best] > 0) targets.set(set, best);
  }
  for (const [set, label] of targets) set.label = label;
  for (const set of targets.keys()) joinAlike(sets, set);
  return targets.size > 0;
}

/** Makes a set one with those beside it of its label. */
function joinAlike(sets: readonly LabelSet[], set: LabelSet): void {
  for (const id of [...set.contact.keys()]) {
    const own = rootOf(set);
    const other = rootOf(sets[id]);
    if (other === own || other.label !== own.label) continue;
    const [into, from] = own.id < other.id ? [own, other] : [other, own];
    from.into = into;
    into.area += from.area;
    for (const [beside, edges] of from.contact)
      into.contact.set(beside, (into.contact.get(beside) ?? 0) + edges);
  }
}

function rootOf(set: LabelSet): LabelSet {
  let root = set;
  while (root.into !== null) root = root.into;
  return root;
}
