/** What one tab tells the others after it wrote to the store. */
export type TabMessage =
  /** A kept plan was written and now stands at this revision. */
  | { readonly kind: 'saved'; readonly id: string; readonly revision: number }
  /** A kept plan was thrown away or erased. */
  | { readonly kind: 'gone'; readonly id: string }
  /** What is kept is no longer the same list, or there is more room. */
  | { readonly kind: 'list' }
  /** Looks and timers were written. */
  | { readonly kind: 'prefs' };

/** A way to the page's other tabs in this browser. */
export interface TabChannel {
  post(message: TabMessage): void;
  /** Calls `listener` with what other tabs post, never with what this one does. Returns the way to stop it. */
  listen(listener: (message: TabMessage) => void): () => void;
}

/** Between tabs of other versions nothing is understood that was not meant. */
const CHANNEL_NAME = 'scute-kept-1';

/** A channel over BroadcastChannel; null where there is none: revisions are then still checked at every write. */
export function createTabChannel(): TabChannel | null {
  if (typeof BroadcastChannel === 'undefined') return null;
  const channel = new BroadcastChannel(CHANNEL_NAME);
  return {
    post: (message) => channel.postMessage(message),
    listen(listener) {
      const hear = (event: MessageEvent<unknown>) => {
        if (isTabMessage(event.data)) listener(event.data);
      };
      channel.addEventListener('message', hear);
      return () => channel.removeEventListener('message', hear);
    },
  };
}

function isTabMessage(data: unknown): data is TabMessage {
  if (typeof data !== 'object' || data === null || !('kind' in data)) return false;
  const { kind } = data;
  if (kind === 'list' || kind === 'prefs') return true;
  if (!('id' in data) || typeof data.id !== 'string') return false;
  return kind === 'gone' || (kind === 'saved' && 'revision' in data && typeof data.revision === 'number');
}
