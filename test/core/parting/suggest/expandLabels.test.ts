import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import {
  costOfLabels,
  expandLabels,
  type LabelProblem,
} from '../../../../src/core/parting/suggest/expandLabels.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';

function randomProblem(seed: number, nodeCount: number, labelCount: number, price: number): LabelProblem {
  const random = seededRandom(seed);
  const from: number[] = [];
  const to: number[] = [];
  for (let a = 0; a < nodeCount; a++) {
    for (let b = a + 1; b < nodeCount; b++) {
      if (random() < 0.4) {
        from.push(a);
        to.push(b);
      }
    }
  }
  return {
    nodeCount,
    labelCount,
    nodeCost: Float64Array.from({ length: nodeCount * labelCount }, () => 5 * random()),
    from: Uint32Array.from(from),
    to: Uint32Array.from(to),
    edgeCost: Float64Array.from({ length: from.length }, () => 2 * random()),
    labelCost: Array.from({ length: labelCount }, () => price * random()),
  };
}

/** Costs of every labelling there is. */
function* allCosts(problem: LabelProblem): Generator<{ labels: Int32Array; cost: number }> {
  const labels = new Int32Array(problem.nodeCount);
  for (let n = 0; n < problem.labelCount ** problem.nodeCount; n++) {
    let rest = n;
    for (let v = 0; v < problem.nodeCount; v++) {
      labels[v] = rest % problem.labelCount;
      rest = Math.floor(rest / problem.labelCount);
    }
    yield { labels, cost: costOfLabels(problem, labels) };
  }
}

describe('expandLabels', () => {
  it('finds the least labelling of two labels exactly (seeds 1 to 40)', async () => {
    for (let seed = 1; seed <= 40; seed++) {
      const problem = randomProblem(seed, 10, 2, 0);
      const labels = new Int32Array(10);
      const cost = await expandLabels(problem, labels, new Checkpoint());
      expect(costOfLabels(problem, labels)).toBe(cost);
      const least = Math.min(...Array.from(allCosts(problem), (each) => each.cost));
      expect(cost, `seed ${seed}`).toBeCloseTo(least, 9);
    }
  });

  // Boykov, Veksler & Zabih (2001), theorem 6.1: with the Potts model at most twice the least; without prices.
  it('costs at most twice the least with three labels (seeds 1 to 30)', async () => {
    for (let seed = 1; seed <= 30; seed++) {
      const problem = randomProblem(seed, 8, 3, 0);
      const cost = await expandLabels(problem, new Int32Array(8), new Checkpoint());
      const least = Math.min(...Array.from(allCosts(problem), (each) => each.cost));
      expect(cost, `seed ${seed}`).toBeGreaterThan(least - 1e-9);
      expect(cost, `seed ${seed}`).toBeLessThanOrEqual(2 * least + 1e-9);
    }
  });

  it('leaves no priced expansion undone (seeds 1 to 30)', async () => {
    for (let seed = 1; seed <= 30; seed++) {
      const problem = randomProblem(seed, 8, 3, 6);
      const labels = Int32Array.from({ length: 8 }, (_, v) => v % 3);
      const cost = await expandLabels(problem, labels, new Checkpoint());
      // Of all labellings that one expansion reaches, prices included, none is cheaper.
      for (const each of allCosts(problem)) {
        const taken = new Set<number>();
        for (let v = 0; v < 8; v++) if (each.labels[v] !== labels[v]) taken.add(each.labels[v]);
        if (taken.size === 1) expect(each.cost, `seed ${seed}`).toBeGreaterThanOrEqual(cost - 1e-6 * cost);
      }
    }
  });

  it('drops a label that costs more than it saves', async () => {
    const problem = randomProblem(5, 8, 3, 0);
    const dear = { ...problem, labelCost: [0, 1000, 1000] };
    const labels = Int32Array.from({ length: 8 }, (_, v) => v % 3);
    await expandLabels(dear, labels, new Checkpoint());
    expect(Array.from(labels)).toEqual(new Array(8).fill(0));
  });
});
