/** Length of a vector, for inner loops: Math.hypot takes some twenty times as long, to guard against numbers no scan has. */
export const vectorLength = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);
