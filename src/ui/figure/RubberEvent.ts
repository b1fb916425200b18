import type { SurfaceHit } from '../../view/viewTypes.ts';

/** The pointer's doings on the rubber, for the sheet to hand to the drafter. */
export class RubberEvent extends Event {
  static readonly type = 'scute-rubber';
  constructor(
    readonly what:
      | { readonly do: 'add'; readonly hit: SurfaceHit }
      | {
          readonly do: 'move';
          readonly line: number;
          readonly point: number;
          readonly hit: SurfaceHit;
          readonly done: boolean;
        }
      | { readonly do: 'select'; readonly line: number; readonly point: number },
  ) {
    super(RubberEvent.type, { bubbles: true, composed: true });
  }
}
