/** TEMP */
export function buildTwins(indices: Uint32Array): {
  twins: Int32Array;
  nonManifoldEdges: number;
  openEdges: number;
} {
  const known = new Map<string, number>();
  const twins = new Int32Array(indices.length).fill(-1);
  const next = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);
  for (let e = 0; e < indices.length; e++) known.set(`${indices[e]} ${indices[next(e)]}`, e);
  let openEdges = 0;
  for (let e = 0; e < indices.length; e++) {
    const other = known.get(`${indices[next(e)]} ${indices[e]}`);
    if (other === undefined) openEdges++;
    else twins[e] = other;
  }
  return { twins, nonManifoldEdges: 0, openEdges };
}
