import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Aspect } from '../../view/viewTypes.ts';
import type { Command } from '../events.ts';
import type { LineDrafter } from './LineDrafter.ts';

const ASPECT_KEYS: Readonly<Record<string, Aspect>> = {
  '1': 'front',
  '2': 'back',
  '3': 'left',
  '4': 'right',
  '5': 'top',
};

/** Who is asked when a key means something. */
export interface KeyGround {
  readonly drafter: Pick<LineDrafter, 'state' | 'rest' | 'finish' | 'deleteSelected' | 'stepBack'>;
  readonly ask: (command: Command) => void;
  readonly lookFrom: (aspect: Aspect) => void;
}

/** The keys that hold on the whole page: undo and redo, the five views, and the pencil's own while it is on the rubber. */
export class PageKeys implements ReactiveController {
  constructor(
    host: ReactiveControllerHost,
    private readonly ground: () => KeyGround,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    window.addEventListener('keydown', this.onKey);
  }

  hostDisconnected(): void {
    window.removeEventListener('keydown', this.onKey);
  }

  private readonly onKey = (event: KeyboardEvent) => {
    const { drafter, ask, lookFrom } = this.ground();
    const target = event.composedPath()[0];
    // Under a dialog the page stands still.
    if (event.composedPath().some((node) => node instanceof HTMLDialogElement)) return;
    const isTyping = isTextEntry(target);
    const key = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && !event.altKey) {
      if (isTyping) return;
      if (key === 'z' && !event.shiftKey) ask({ do: 'undo' });
      else if ((key === 'z' && event.shiftKey) || key === 'y') ask({ do: 'redo' });
      else return;
      event.preventDefault();
      return;
    }
    if (isTyping || event.altKey) return;
    const aspect = ASPECT_KEYS[event.key];
    if (aspect) {
      lookFrom(aspect);
      return;
    }
    if (event.key === 'Escape') {
      ask({ do: 'stand-rest' });
      ask({ do: 'paint-rest' });
    }
    if (drafter.state.mode === 'look') return;
    if (event.key === 'Escape') drafter.rest();
    else if (event.key === 'Enter' && !actsOnEnter(target)) drafter.finish();
    else if (event.key === 'Backspace' || event.key === 'Delete') {
      if (drafter.state.mode === 'edit') drafter.deleteSelected();
      else drafter.stepBack();
      event.preventDefault();
    }
  };
}

/** What Enter does something of its own to. */
const actsOnEnter = (target: EventTarget | undefined): boolean =>
  target instanceof Element && target.matches('button, summary, a[href]');

function isTextEntry(target: EventTarget | undefined): boolean {
  if (target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement) return true;
  if (!(target instanceof HTMLInputElement)) return false;
  return !['range', 'checkbox', 'radio', 'button'].includes(target.type);
}
