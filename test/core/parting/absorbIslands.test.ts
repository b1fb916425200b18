import { describe, expect, it } from 'vitest';
import { absorbIslands } from '../../../src/core/parting/absorbIslands.ts';
import type { FacingGraph } from '../../../src/core/parting/SurfaceDiffusion.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

/** Squares of a board, each beside the four that share a side. */
function board(width: number, height: number): FacingGraph {
  const count = width * height;
  const starts = new Uint32Array(count + 1);
  const neighbours: number[] = [];
  for (let v = 0; v < count; v++) {
    const [x, y] = [v % width, Math.floor(v / width)];
    if (x > 0) neighbours.push(v - 1);
    if (x < width - 1) neighbours.push(v + 1);
    if (y > 0) neighbours.push(v - width);
    if (y < height - 1) neighbours.push(v + width);
    starts[v + 1] = neighbours.length;
  }
  const areas = new Float64Array(count).fill(1);
  return {
    starts,
    neighbours: Uint32Array.from(neighbours),
    areas,
    areaVectors: new Float64Array(3 * count),
    count,
  };
}

/** Labels of a board drawn line by line, "." for none. */
function absorbed(...lines: readonly string[]): string[] {
  const width = lines[0].length;
  const labels = Int32Array.from(lines.join(''), (mark) => (mark === '.' ? -1 : Number(mark)));
  absorbIslands(board(width, lines.length), labels, 3);
  const marks = Array.from(labels, (label) => (label < 0 ? '.' : String(label))).join('');
  return lines.map((_, y) => marks.slice(y * width, (y + 1) * width));
}

describe('islands', () => {
  it('take the label around them', () => {
    expect(absorbed('000111', '010101', '000111')).toEqual(['000111', '000111', '000111']);
  });

  it('take the label that they border on most', () => {
    // The 2 at the border of both touches 0 three times over and 1 once; the large 2 stays.
    expect(absorbed('000111', '002111', '000111', '222222')).toEqual([
      '000111',
      '000111',
      '000111',
      '222222',
    ]);
  });

  it('within islands go with them', () => {
    expect(
      absorbed('0000000', '0111110', '0122210', '0111110', '0000000', '1111111', '1111111', '2222222'),
    ).toEqual(['0000000', '0000000', '0000000', '0000000', '0000000', '1111111', '1111111', '2222222']);
  });

  it('side by side: the smaller gives way, and with no neighbour of another label they stay', () => {
    expect(absorbed('000.0', '000.0', '111.1')).toEqual(['000.0', '000.0', '111.0']);
    expect(absorbed('00.00', '00..0', '11111')).toEqual(['00.11', '00..1', '11111']);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('leave each label in one piece, seed %i', (seed) => {
    const random = seededRandom(seed);
    const graph = board(30, 20);
    const labels = Int32Array.from({ length: graph.count }, (_, v) =>
      random() < 0.3 ? Math.floor(3 * random()) : Math.floor((v % 30) / 10),
    );
    absorbIslands(graph, labels, 3);
    const reached = new Set<number>();
    let pieces = 0;
    for (let v = 0; v < graph.count; v++) {
      if (reached.has(v)) continue;
      pieces++;
      const piece = new Set([v]);
      for (const at of piece) {
        reached.add(at);
        for (const next of graph.neighbours.subarray(graph.starts[at], graph.starts[at + 1])) {
          if (labels[next] === labels[v]) piece.add(next);
        }
      }
    }
    expect(pieces).toBe(new Set(labels).size);
    expect(pieces).toBe(3);
  });
});
