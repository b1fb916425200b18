import type { Aspect } from '../../view/viewTypes.ts';

export type FigureLook = 'nearer' | 'farther' | 'fit' | Aspect;

/** A part of the figure asks for another look at the mould; heard by the figure that it stands in. */
export class FigureLookEvent extends Event {
  static readonly type = 'scute-look';
  constructor(readonly look: FigureLook) {
    super(FigureLookEvent.type, { bubbles: true, composed: true });
  }
}
