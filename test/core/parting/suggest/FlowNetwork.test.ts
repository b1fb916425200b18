import { describe, expect, it } from 'vitest';
import { FlowNetwork } from '../../../../src/core/parting/suggest/FlowNetwork.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';

interface Net {
  readonly nodeCount: number;
  readonly from: number[];
  readonly to: number[];
  readonly capacity: Float64Array;
  readonly surplus: Float64Array;
}

function randomNet(seed: number, nodeCount: number, edgeCount: number): Net {
  const random = seededRandom(seed);
  const from: number[] = [];
  const to: number[] = [];
  for (let e = 0; e < edgeCount; e++) {
    const a = Math.floor(random() * nodeCount);
    const b = (a + 1 + Math.floor(random() * (nodeCount - 1))) % nodeCount;
    from.push(a);
    to.push(b);
  }
  return {
    nodeCount,
    from,
    to,
    // Whole numbers, many of them zero: ties and dead arcs are what such codes stumble over.
    capacity: Float64Array.from({ length: 2 * edgeCount }, () => Math.max(0, Math.floor(random() * 12) - 4)),
    surplus: Float64Array.from({ length: nodeCount }, () => Math.floor(random() * 21) - 10),
  };
}

/** What a side of each node costs: surplus for the sink's (source capacity cut), its negative part for the source's. */
function cutCost(net: Net, onSink: (v: number) => boolean): number {
  let cost = 0;
  for (let v = 0; v < net.nodeCount; v++) {
    if (onSink(v)) cost += Math.max(0, net.surplus[v]);
    else cost += Math.max(0, -net.surplus[v]);
  }
  for (let e = 0; e < net.from.length; e++) {
    const a = onSink(net.from[e]);
    const b = onSink(net.to[e]);
    if (!a && b) cost += net.capacity[2 * e];
    if (a && !b) cost += net.capacity[2 * e + 1];
  }
  return cost;
}

describe('FlowNetwork', () => {
  it('finds the least of all cuts of small random networks (seeds 1 to 300)', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const net = randomNet(seed, 2 + (seed % 9), 3 + (seed % 23));
      let least = Infinity;
      for (let bits = 0; bits < 1 << net.nodeCount; bits++) {
        least = Math.min(
          least,
          cutCost(net, (v) => ((bits >> v) & 1) === 1),
        );
      }
      const side = new Uint8Array(net.nodeCount);
      const flow = new FlowNetwork(net.nodeCount, net.from, net.to).solve(net.surplus, net.capacity, side);
      expect(flow, `seed ${seed}`).toBe(least);
      expect(
        cutCost(net, (v) => side[v] === 1),
        `seed ${seed}`,
      ).toBe(least);
    }
  });

  // A grid whose left column is fed and whose right column is drained: every cut is a top-to-bottom wall, and with unit
  // capacities but for one cheap column the wall must stand there and cost its height times that (max flow = min cut).
  it('cuts a planar grid along its cheap column', () => {
    const width = 40;
    const height = 30;
    const cheap = 17;
    const from: number[] = [];
    const to: number[] = [];
    const capacity: number[] = [];
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        if (x + 1 < width) {
          from.push(y * width + x);
          to.push(y * width + x + 1);
          const c = x === cheap ? 0.25 : 1;
          capacity.push(c, c);
        }
        if (y + 1 < height) {
          from.push(y * width + x);
          to.push((y + 1) * width + x);
          capacity.push(1, 1);
        }
      }
    }
    const surplus = new Float64Array(width * height);
    for (let y = 0; y < height; y++) {
      surplus[y * width] = 100;
      surplus[y * width + width - 1] = -100;
    }
    const side = new Uint8Array(width * height);
    const network = new FlowNetwork(width * height, from, to);
    for (let again = 0; again < 2; again++) {
      expect(network.solve(surplus, Float64Array.from(capacity), side)).toBe(0.25 * height);
      for (let n = 0; n < side.length; n++) expect(side[n]).toBe(n % width > cheap ? 1 : 0);
    }
  });
});
