import { nextInTri } from './halfEdges.ts';

/**
 * The open loops of a mesh as lists of border half-edges, each in the direction of its face (the surface on the left seen
 * from outside), so that a fill runs the other way round. At a vertex where several borders meet, a loop follows the fan
 * of faces it came along. O(n).
 */
export function traceLoops(twins: Int32Array): Uint32Array[] {
  const loops: Uint32Array[] = [];
  let isDone: Uint8Array | null = null;
  for (let start = twins.indexOf(-1); start >= 0; start = twins.indexOf(-1, start + 1)) {
    isDone ??= new Uint8Array(twins.length);
    if (isDone[start] !== 0) continue;
    const loop: number[] = [];
    let e = start;
    while (isDone[e] === 0) {
      isDone[e] = 1;
      loop.push(e);
      // From the end of e, round its fan to the border on the other side. Ends: each fan has one such border.
      e = nextInTri(e);
      while (twins[e] >= 0) e = nextInTri(twins[e]);
    }
    loops.push(Uint32Array.from(loop));
  }
  return loops;
}
