/** A part of the batch went into the bucket, or was ticked by mistake. Bubbles to the bench. */
export class TurnPartEvent extends Event {
  static readonly type = 'scute-turn-part';
  constructor(
    /** Its place in the order in which the parts go in, from 0. */
    readonly index: number,
  ) {
    super(TurnPartEvent.type, { bubbles: true, composed: true });
  }
}
