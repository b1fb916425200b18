import { nextHalf, previousHalf, type SurfaceContext, type SurfacePoint } from './SurfaceContext.ts';

/**
 * The triangles that a short way from one surface point to another runs through, first to last, neighbours sharing an
 * edge; null when the two lie on parts that are not connected.
 *
 * A* over the midpoints of edges (Hart, Nilsson & Raphael 1968); the straight-line distance is the bound, so that only
 * triangles about the way are visited. Not yet the shortest way: `straightenStrip` makes it so. Cost: O(k log k) in the
 * triangles visited, no allocation that grows with the mesh.
 */
export function searchStrip(
  surface: SurfaceContext,
  start: SurfacePoint,
  end: SurfacePoint,
): number[] | null {
  if (start.tri === end.tri) return [start.tri];
  const { positions: p, indices, links, cost, from, stamp, queue } = surface;
  const generation = surface.nextGeneration();
  // A node is an edge, named by the smaller of its two half-edges; `from` keeps the half-edge that
  // was crossed before it, `exit` (the value in the queue) the half-edge by which its triangle is left.
  queue.clear();
  const { x: qx, y: qy, z: qz } = end;
  let bestGoal = Infinity;
  let goalExit = -1;

  const reach = (exit: number, before: number, fromX: number, fromY: number, fromZ: number, base: number) => {
    const over = links[exit];
    if (over < 0) return;
    const node = Math.min(exit, over);
    const a = 3 * indices[exit];
    const b = 3 * indices[nextHalf(exit)];
    const mx = 0.5 * (p[a] + p[b]);
    const my = 0.5 * (p[a + 1] + p[b + 1]);
    const mz = 0.5 * (p[a + 2] + p[b + 2]);
    const g = base + Math.sqrt((mx - fromX) ** 2 + (my - fromY) ** 2 + (mz - fromZ) ** 2);
    // The hair's breadth keeps rounding from re-opening an edge that was already left the other way.
    if (stamp[node] === generation && cost[node] <= g * (1 + 1e-12)) return;
    stamp[node] = generation;
    cost[node] = g;
    from[node] = before;
    const rest = Math.sqrt((mx - qx) ** 2 + (my - qy) ** 2 + (mz - qz) ** 2);
    if (((over / 3) | 0) === end.tri) {
      if (g + rest < bestGoal) {
        bestGoal = g + rest;
        goalExit = exit;
      }
      return;
    }
    queue.push(exit, g + rest);
  };

  for (let k = 0; k < 3; k++) reach(3 * start.tri + k, -1, start.x, start.y, start.z, 0);
  for (;;) {
    const bound = queue.peekValue();
    if (bound === undefined || bound >= bestGoal) break;
    const exit = queue.pop();
    if (exit === undefined) break;
    const over = links[exit];
    const g = cost[Math.min(exit, over)];
    const a = 3 * indices[exit];
    const b = 3 * indices[nextHalf(exit)];
    const mx = 0.5 * (p[a] + p[b]);
    const my = 0.5 * (p[a + 1] + p[b + 1]);
    const mz = 0.5 * (p[a + 2] + p[b + 2]);
    // A stale entry (its edge was reached better since) only repeats work that `reach` refuses.
    if (bound > g + Math.sqrt((mx - qx) ** 2 + (my - qy) ** 2 + (mz - qz) ** 2) * (1 + 1e-12)) continue;
    reach(nextHalf(over), exit, mx, my, mz, g);
    reach(previousHalf(over), exit, mx, my, mz, g);
  }
  if (goalExit < 0) return null;

  const strip = [end.tri];
  for (let exit = goalExit; exit >= 0; ) {
    strip.push((exit / 3) | 0);
    const over = links[exit];
    exit = from[Math.min(exit, over)];
  }
  return strip.reverse();
}
