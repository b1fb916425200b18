import type { ToPage } from './messages.ts';

/** The buffers of a message that can be handed over instead of copied: those of pictures and files, made for the page alone. */
export function transferablesOf(message: ToPage): Transferable[] {
  const found = new Set<Transferable>();
  const visit = (value: unknown): void => {
    if (ArrayBuffer.isView(value)) {
      if (value.buffer instanceof ArrayBuffer) found.add(value.buffer);
    } else if (value instanceof ArrayBuffer) {
      found.add(value);
    } else if (Array.isArray(value)) {
      for (const item of value) visit(item);
    } else if (value !== null && typeof value === 'object') {
      for (const item of Object.values(value)) visit(item);
    }
  };
  if (message.kind === 'answer') visit(message.answer.geometry);
  else if (message.kind === 'done') visit(message.output);
  return [...found];
}
