import type { MouldFigure } from '../figure/MouldFigure.ts';
import { saveBlob } from '../saveBlob.ts';
import type { Workshop } from './Workshop.ts';

/** Hands the figure over as a PNG under the plan's name; nothing while there is no picture. */
export async function savePicture(
  workshop: Workshop,
  figure: Pick<MouldFigure, 'takePicture'>,
): Promise<void> {
  const blob = await figure.takePicture();
  if (blob) saveBlob(`${workshop.planFile().name.replace('.scute.json', '')}.png`, blob);
}
