/** Components joined by shared edges: a number from 0 for each triangle, and how many there are. O(n). */
export function labelParts(twins: Int32Array): { parts: Int32Array; partCount: number } {
  const count = twins.length / 3;
  const parts = new Int32Array(count).fill(-1);
  const stack = new Int32Array(count);
  let partCount = 0;
  for (let seed = 0; seed < count; seed++) {
    if (parts[seed] >= 0) continue;
    parts[seed] = partCount;
    let top = 0;
    stack[top++] = seed;
    while (top > 0) {
      const t = stack[--top];
      for (let e = 3 * t; e < 3 * t + 3; e++) {
        const s = twins[e] < 0 ? -1 : (twins[e] / 3) | 0;
        if (s < 0 || parts[s] >= 0) continue;
        parts[s] = partCount;
        stack[top++] = s;
      }
    }
    partCount++;
  }
  return { parts, partCount };
}
