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
  const { areas, count } = graph;
  // Vertex by vertex in their order, which is kinder to memory than to follow each set to its end.
  const first = joinAlikeVerts(graph, labels);
  const of = new Int32Array(count).fill(-1);
  const sets: LabelSet[] = [];
  for (let v = 0; v < count; v++) {
    if (labels[v] < 0) continue;
    const root = firstOf(first, v);
    if (root === v) {
      of[v] = sets.length;
      sets.push({ id: sets.length, label: labels[v], area: 0, contact: new Map(), into: null });
    } else {
      of[v] = of[root];
    }
    sets[of[v]].area += areas[v];
  }
  listContacts(graph, labels, of, sets);
  return { of, sets };
}

/** By vertex another of its set, nearer to the first one; the first one itself. */
function joinAlikeVerts({ starts, neighbours, count }: FacingGraph, labels: Int32Array): Int32Array {
  const first = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    first[v] = v;
    const label = labels[v];
    if (label < 0) continue;
    let root = v;
    for (let e = starts[v]; e < starts[v + 1]; e++) {
      const w = neighbours[e];
      if (w >= v || labels[w] !== label) continue;
      const other = firstOf(first, w);
      if (other < root) {
        first[root] = other;
        root = other;
      } else {
        first[other] = root;
      }
    }
  }
  return first;
}

function firstOf(first: Int32Array, from: number): number {
  let v = from;
  while (first[v] !== v) {
    first[v] = first[first[v]];
    v = first[v];
  }
  return v;
}

function listContacts(
  { starts, neighbours, count }: FacingGraph,
  labels: Int32Array,
  of: Int32Array,
  sets: readonly LabelSet[],
): void {
  for (let v = 0; v < count; v++) {
    const label = labels[v];
    if (label < 0) continue;
    for (let e = starts[v]; e < starts[v + 1]; e++) {
      const other = labels[neighbours[e]];
      if (other === label || other < 0) continue;
      const { contact } = sets[of[v]];
      const id = of[neighbours[e]];
      contact.set(id, (contact.get(id) ?? 0) + 1);
    }
  }
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
