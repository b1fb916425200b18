/** The words of the call are off: exit 2. `message` names the option or argument and says what it takes. */
export class CallError extends Error {
  override readonly name = 'CallError';
}
