import { doOutlinesMeet, isPlaceInside } from './outlineTests.ts';

/** Places along a closed line, n of them. */
export type FlatLoop = readonly (readonly [number, number])[];

/** A flat to be filled: its outer line, counter-clockwise, and the lines of its openings, clockwise. By their numbers. */
export interface FlatGroup {
  readonly outer: number;
  readonly openings: readonly number[];
}

export interface NestedOutlines {
  readonly groups: readonly FlatGroup[];
  /** Outlines that cross or touch themselves or their fellows, or are openings in nothing. */
  readonly unsound: readonly number[];
  /** Outlines wholly inside the flat of another: of a part that lies inside the body. */
  readonly inner: readonly number[];
}

/**
 * Which outlines bound which flat. Outlines of separate bodies may cross each other: each is filled on its own. Exact
 * predicates. Cost: each outline against those that contain it.
 */
export function nestOutlines(loops: readonly FlatLoop[]): NestedOutlines {
  const areas = loops.map(areaOfLoop);
  const unsound: number[] = [];
  const inner: number[] = [];
  const isSound = loops.map((loop, n) => areas[n] !== 0 && !doOutlinesMeet([loop]));
  const around = loops.map((loop, n) =>
    loops.flatMap((other, m) =>
      m !== n &&
      isSound[n] &&
      isSound[m] &&
      Math.abs(areas[m]) > Math.abs(areas[n]) &&
      isLoopInside(loop, other)
        ? [m]
        : [],
    ),
  );
  const openings = new Map<number, number[]>();
  const outers: number[] = [];
  loops.forEach((_, n) => {
    if (!isSound[n]) {
      unsound.push(n);
      return;
    }
    const depth = around[n].reduce((sum, m) => sum + Math.sign(areas[m]), 0);
    if (areas[n] > 0 && depth > 0) inner.push(n);
    else if (areas[n] > 0) outers.push(n);
    else {
      const parents = around[n].filter((m) => areas[m] > 0);
      if (parents.length === 0) unsound.push(n);
      else {
        const parent = parents.reduce((best, m) => (areas[m] < areas[best] ? m : best));
        openings.set(parent, [...(openings.get(parent) ?? []), n]);
      }
    }
  });
  const groups: FlatGroup[] = [];
  for (const outer of outers) {
    const group = { outer, openings: openings.get(outer) ?? [] };
    const members = [outer, ...group.openings];
    if (group.openings.length > 0 && doOutlinesMeet(members.map((m) => loops[m]))) unsound.push(...members);
    else groups.push(group);
  }
  // Openings of a part that lies inside another go with it.
  for (const n of inner) inner.push(...(openings.get(n) ?? []));
  return { groups, unsound, inner };
}

/** Area within a closed line, positive counter-clockwise. */
export function areaOfLoop(loop: FlatLoop): number {
  let twice = 0;
  const [ox, oy] = loop[0];
  for (let i = 0; i < loop.length; i++) {
    const [ax, ay] = loop[i];
    const [bx, by] = loop[(i + 1) % loop.length];
    twice += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
  }
  return twice / 2;
}

function isLoopInside(loop: FlatLoop, other: FlatLoop): boolean {
  return isPlaceInside(loop[0], other) && !doOutlinesMeet([loop, other]);
}
