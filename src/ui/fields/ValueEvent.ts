/** A field was given a new value that can be used. `isGesture`: more of the same drag follows. Does not leave its panel. */
export class ValueEvent<T> extends Event {
  static readonly type = 'value';
  constructor(
    readonly value: T,
    readonly isGesture = false,
  ) {
    super(ValueEvent.type, { bubbles: false, composed: false });
  }
}
