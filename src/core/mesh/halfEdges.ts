/** The half-edge after `e` in its triangle. */
export function nextInTri(e: number): number {
  return e % 3 === 2 ? e - 2 : e + 1;
}

/** The half-edge before `e` in its triangle. */
export function previousInTri(e: number): number {
  return e % 3 === 0 ? e + 2 : e - 1;
}
