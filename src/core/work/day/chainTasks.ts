import type { TaskLinks } from './linkTasks.ts';

/**
 * Steps that must be placed together, because one must begin soon after another ends; a step alone where nothing limits
 * it. Returned by chain: the numbers of its steps in the order of `links.order`; chains by their first step.
 *
 * They are the strongly connected components of the waits with every limit as a way back: a step between two of a chain
 * belongs to it, and chains wait for each other without a ring. Cost: linear in steps, waits and limits.
 * Source: S. R. Kosaraju's two sweeps, as in A. V. Aho, J. E. Hopcroft, J. D. Ullman, "Data Structures and Algorithms"
 * (1983), section 6.7; from memory.
 */
export function chainTasks(links: TaskLinks): number[][] {
  const { order, before, behind, limits } = links;
  const ahead = behind.map((list) => [...list]);
  const past = before.map((list) => [...list]);
  for (const n of order) {
    for (const { of } of limits[n]) {
      ahead[n].push(of);
      ahead[of].push(n);
      past[n].push(of);
      past[of].push(n);
    }
  }
  const chainOf = new Int32Array(order.length).fill(-1);
  for (const root of finishOrder(order, ahead).reverse()) {
    if (chainOf[root] !== -1) continue;
    const open = [root];
    chainOf[root] = root;
    for (let n = open.pop(); n !== undefined; n = open.pop()) {
      for (const other of past[n]) {
        if (chainOf[other] !== -1) continue;
        chainOf[other] = root;
        open.push(other);
      }
    }
  }
  const chains = new Map<number, number[]>();
  for (const n of order) {
    const members = chains.get(chainOf[n]);
    if (members) members.push(n);
    else chains.set(chainOf[n], [n]);
  }
  return [...chains.values()];
}

/** Steps in the order in which a walk in depth leaves them for good. */
function finishOrder(order: readonly number[], next: readonly (readonly number[])[]): number[] {
  const isSeen = new Uint8Array(next.length);
  const finished: number[] = [];
  for (const root of order) {
    if (isSeen[root]) continue;
    isSeen[root] = 1;
    const stack = [{ n: root, at: 0 }];
    while (stack.length > 0) {
      const top = stack[stack.length - 1];
      if (top.at === next[top.n].length) {
        finished.push(top.n);
        stack.pop();
        continue;
      }
      const other = next[top.n][top.at++];
      if (isSeen[other]) continue;
      isSeen[other] = 1;
      stack.push({ n: other, at: 0 });
    }
  }
  return finished;
}
