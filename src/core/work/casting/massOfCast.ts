/** What the cast's mass is worked out from; volumes in mm3. */
export interface CastBody {
  /** Inside of the rubber's outer face below the level. */
  readonly filledMm3: number;
  /** The same to the top. */
  readonly enclosedMm3: number;
  readonly rubberMm3: number;
  /** Area of the rubber's outer face below the level, mm2. */
  readonly wetMm2: number;
  /** Wall of a hollow cast, mm; null: solid. */
  readonly wallMm: number | null;
  readonly densityGPerCm3: number;
}

/**
 * Mass of the cast, g. Solid: the filled inside without the rubber's share of it. Hollow: the wall on the cavity's face,
 * whose area is that of the rubber's outer face drawn in with the volume's power of 2/3 (exact for bodies of one shape), and
 * never more than the solid cast. A wall lies inside its face, so that where the face is convex this is a little too much.
 */
export function massOfCast(body: CastBody): number {
  const filledShare = body.enclosedMm3 > 0 ? Math.min(1, Math.max(0, body.filledMm3 / body.enclosedMm3)) : 0;
  const solidMm3 = Math.max(0, body.enclosedMm3 - body.rubberMm3) * filledShare;
  const gPerMm3 = body.densityGPerCm3 / 1000;
  if (body.wallMm === null) return solidMm3 * gPerMm3;
  const drawnIn = body.filledMm3 > 0 ? Math.min(1, solidMm3 / body.filledMm3) ** (2 / 3) : 0;
  return Math.min(solidMm3, body.wetMm2 * drawnIn * body.wallMm) * gPerMm3;
}
