import type { SectionPicture } from '../../../jobs/protocol.ts';
import { type CutPlace, isInside } from './cutPlace.ts';

/** Heights of the cut at which the coats are named, share of its height: high to low, so that their lines do not cross. */
const FROM_SHARE = 0.78;
const TO_SHARE = 0.3;
/** Steps of the search across the cut. */
const STEPS = 400;

/** One spot in the middle of each coat where it is crossed on its outermost side; coats that are not met are left out. */
export function coatSpots(section: SectionPicture, coatCount: number): { coat: number; at: CutPlace }[] {
  const box = boxOf(section);
  if (box === null) return [];
  const out: { coat: number; at: CutPlace }[] = [];
  for (let coat = 0; coat < coatCount; coat++) {
    const share = coatCount > 1 ? coat / (coatCount - 1) : 0.5;
    const v = box.minV + (FROM_SHARE + (TO_SHARE - FROM_SHARE) * share) * (box.maxV - box.minV);
    const at = lastMiddle(section, coat, v, box.minU, box.maxU);
    if (at !== null) out.push({ coat, at });
  }
  return out;
}

/** Two ends across all the coats, where the cut is crossed level in its middle on its outermost side; null: nothing is cut. */
export function firstRuler(section: SectionPicture): readonly [CutPlace, CutPlace] | null {
  const box = boxOf(section);
  if (box === null) return null;
  const v = (box.minV + box.maxV) / 2;
  const shells = section.areas.filter(({ coat }) => coat >= 0);
  const within = (u: number) => shells.some(({ rings }) => isInside(rings, [u, v]));
  const step = (box.maxU - box.minU) / STEPS;
  let outer: number | null = null;
  for (let u = box.maxU; u >= box.minU; u -= step) {
    if (outer === null && within(u)) outer = u;
    else if (outer !== null && !within(u))
      return [
        [u, v],
        [outer, v],
      ];
  }
  return [
    [box.minU, v],
    [box.maxU, v],
  ];
}

function lastMiddle(
  section: SectionPicture,
  coat: number,
  v: number,
  minU: number,
  maxU: number,
): CutPlace | null {
  const rings = section.areas.filter((area) => area.coat === coat).map((area) => area.rings);
  const within = (u: number) => rings.some((one) => isInside(one, [u, v]));
  const step = (maxU - minU) / STEPS;
  for (let u = maxU; u >= minU; u -= step) {
    if (!within(u)) continue;
    let inner = u;
    while (inner - step >= minU && within(inner - step)) inner -= step;
    return [(u + inner) / 2, v];
  }
  return null;
}

function boxOf({ areas }: SectionPicture) {
  const box = { minU: Infinity, maxU: -Infinity, minV: Infinity, maxV: -Infinity };
  for (const { rings } of areas) {
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i += 2) {
        box.minU = Math.min(box.minU, ring[i]);
        box.maxU = Math.max(box.maxU, ring[i]);
        box.minV = Math.min(box.minV, ring[i + 1]);
        box.maxV = Math.max(box.maxV, ring[i + 1]);
      }
    }
  }
  return box.minU > box.maxU ? null : box;
}
