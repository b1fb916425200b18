import { fileStem } from '../../session/planFile.ts';
import type { MouldFigure } from '../figure/MouldFigure.ts';
import { saveBlob } from '../saveBlob.ts';
import type { Workshop } from './Workshop.ts';

/** Hands the figure over as a PNG under the plan's name; says so when there is none. */
export async function savePicture(
  workshop: Workshop,
  figure: Pick<MouldFigure, 'takePicture' | 'pictureName'>,
): Promise<void> {
  const blob = await figure.takePicture();
  if (blob) {
    saveBlob(`${fileStem(workshop.store.state.plan)}-${figure.pictureName}.png`, blob);
  } else {
    workshop.store.notify(
      'save',
      'problem',
      'The picture was not saved: this browser gave none. Wait until the mould is drawn, then try again.',
    );
  }
}
