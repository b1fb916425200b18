import { sayWeighing } from '../panels/mix/sayWeighing.ts';
import type { WeighedPart } from './planWeighing.ts';

/** How a part is weighed, for somebody who stands at the scale: "Do not zero. Pour until the scale shows 55 g." */
export function sayWeighed({ into, zeroWith, showsG, scale }: WeighedPart): string {
  const which = scale === '' ? 'the scale' : `the ${scale}`;
  const shows = `${sayWeighing(showsG)} g`;
  if (into === 'apart') return `Weigh it by itself on ${which}; it is laid in, not poured.`;
  if (into === 'cup') return `Zero ${which} with an empty cup, weigh ${shows} into it, tip it in.`;
  if (zeroWith === 'empty bucket')
    return `Zero ${which} with the empty bucket. It shows ${shows} when it is in.`;
  if (zeroWith === 'bucket') return `Bucket onto ${which}, zero it. It shows ${shows} when it is in.`;
  return `Do not zero. The scale shows ${shows} when it is in.`;
}
