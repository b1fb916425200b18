import type { ScalePlan } from '../../core/plan/PlanDocument.ts';

/** A part of a batch as it is weighed out. */
export interface WeighedPart {
  readonly item: string;
  readonly massG: number;
  /** Name of the scale; '' when it is none of the bench's. */
  readonly scale: string;
  /**
   * 'bucket': poured into the bucket on the scale. 'cup': weighed in a cup of its own and then poured in, since the bucket
   * is too heavy for that scale by then. 'apart': weighed by itself, never poured in (mat that is laid in).
   */
  readonly into: 'bucket' | 'cup' | 'apart';
  /** What has to stand on the scale, empty or as it is, when it is zeroed before this part; null: it is not zeroed. */
  readonly zeroWith: 'empty bucket' | 'bucket' | 'empty cup' | null;
  /** What the scale shows when all of it is in, g. */
  readonly showsG: number;
}

/** Sums of weights are cleaned to this many parts of a gram, so that 53.9 g and 1.1 g read 55 g. */
const PARTS_OF_GRAM = 1e6;

/**
 * How the parts of a batch come onto the scales, in order: while the bucket stays on one scale it is zeroed once and each
 * part is added to what it shows. Where another scale carries the part, the bucket goes over and is zeroed again if it is
 * light enough for that scale, else the part has a cup of its own. The bucket's own mass is not known and is not counted.
 *
 * @param parts in the order in which they go in, `scale` by name.
 * @param isLaidIn whether a part is laid in and not poured.
 */
export function planWeighing(
  parts: readonly { readonly item: string; readonly massG: number; readonly scale: string }[],
  scales: readonly ScalePlan[],
  isLaidIn: (item: string) => boolean,
): readonly WeighedPart[] {
  let inBucketG = 0;
  /** The scale on which the bucket stands zeroed, and what was in it then; null: nowhere. */
  let zeroed: { readonly scale: string; readonly withG: number } | null = null;
  return parts.map(({ item, massG, scale }): WeighedPart => {
    if (isLaidIn(item)) {
      zeroed = null;
      return { item, massG, scale, into: 'apart', zeroWith: null, showsG: massG };
    }
    const mostG = scales.find(({ name }) => name === scale)?.mostG ?? Number.POSITIVE_INFINITY;
    const wholeG = clean(inBucketG + massG);
    // An empty bucket goes on any scale: the part by itself is never more than its scale carries.
    const isTooHeavy = inBucketG > 0 && wholeG > mostG;
    const before = inBucketG;
    inBucketG = wholeG;
    if (isTooHeavy) {
      zeroed = null;
      return { item, massG, scale, into: 'cup', zeroWith: 'empty cup', showsG: massG };
    }
    const isZeroed = zeroed !== null && zeroed.scale === scale;
    if (!isZeroed) zeroed = { scale, withG: before };
    const zeroWith = isZeroed ? null : before > 0 ? 'bucket' : 'empty bucket';
    const showsG = clean(wholeG - (zeroed?.withG ?? 0));
    return { item, massG, scale, into: 'bucket', zeroWith, showsG };
  });
}

function clean(massG: number): number {
  return Math.round(massG * PARTS_OF_GRAM) / PARTS_OF_GRAM;
}
