import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Where the keys are to go, asked of the sheet. */
export interface FocusGround {
  /** A word for what is in the hand or taken the page's place ("draw", "paint", "bench"); null: nothing. */
  inHand(): string | null;
  /** What takes the keys of things that are worked with in the figure; null when there is no figure. */
  figure(): HTMLElement | null;
}

/** Worked with at the cross of the figure: its keys are wanted there. The others have fields of their own in the panel. */
const WORKS_IN_FIGURE: ReadonlySet<string> = new Set([
  'draw',
  'edit',
  'measure',
  'avoid',
  'paint',
  'erase',
  'turn',
  'base',
]);

/** Keys that do something, after which what had the keys may be gone. */
const ACTING_KEYS: ReadonlySet<string> = new Set(['Enter', ' ', 'Escape', 'Delete', 'Backspace']);

const STOPS = 'a[href],button,input,select,textarea,summary,[tabindex]';

/** A place of the keys, remembered well enough to be found again when what stood there is drawn anew or gone. */
interface KeyPlace {
  readonly element: Element;
  readonly name: string;
  /** What it stood in, innermost first, up to the sheet. */
  readonly around: readonly Element[];
  /** All that could have the keys then, in the page's order; none when it was only passed. */
  readonly stops: readonly Element[];
}

/**
 * Keeps the keys from falling to nowhere. Whoever works without a pointer finds them in the figure when a tool is taken in
 * hand, where it was taken when it is laid down, and beside what was put away, removed or taken its place. Whoever points
 * is left alone, and so is what sees to its own focus (dialogs, the bench).
 */
export class FocusKeeper implements ReactiveController {
  private isByKey = false;
  private place: KeyPlace | null = null;
  private opener: KeyPlace | null = null;
  private held: string | null = null;
  private isAsked = false;
  private readonly host: ReactiveControllerHost & Element;

  constructor(
    host: ReactiveControllerHost & Element,
    private readonly ground: FocusGround,
  ) {
    this.host = host;
    host.addController(this);
  }

  hostConnected(): void {
    window.addEventListener('keydown', this.onKeyDown, true);
    window.addEventListener('keyup', this.onKeyUp, true);
    window.addEventListener('pointerdown', this.onPointer, true);
    window.addEventListener('click', this.onClick, true);
  }

  hostDisconnected(): void {
    window.removeEventListener('keydown', this.onKeyDown, true);
    window.removeEventListener('keyup', this.onKeyUp, true);
    window.removeEventListener('pointerdown', this.onPointer, true);
    window.removeEventListener('click', this.onClick, true);
  }

  hostUpdated(): void {
    this.askSoon();
  }

  private readonly onKeyDown = (event: KeyboardEvent): void => {
    this.isByKey = true;
    if (!ACTING_KEYS.has(event.key)) return;
    this.remember(withKeys(), true);
    this.askSoon();
  };

  private readonly onKeyUp = (event: KeyboardEvent): void => {
    if (event.key === 'Tab') this.remember(withKeys(), false);
  };

  private readonly onPointer = (): void => {
    this.isByKey = false;
  };

  /** A click that no pointer made: a screen reader's. */
  private readonly onClick = (event: MouseEvent): void => {
    if (event.detail > 0 || this.isByKey) return;
    const [element] = event.composedPath();
    this.isByKey = true;
    if (element instanceof Element) this.remember(element, true);
    this.askSoon();
  };

  private remember(element: Element | null, withStops: boolean): void {
    if (element === null) return;
    const stops = withStops ? [...stopsIn(this.host)] : [];
    this.place = { element, name: nameOf(element), around: [...aroundOf(element)], stops };
  }

  /** After the elements are drawn, and the browser has taken the keys from what is gone or switched off. */
  private askSoon(): void {
    if (this.isAsked) return;
    this.isAsked = true;
    requestAnimationFrame(() =>
      setTimeout(() => {
        this.isAsked = false;
        this.see();
      }),
    );
  }

  private see(): void {
    const held = this.ground.inHand();
    const was = this.held;
    this.held = held;
    if (!this.isByKey) {
      this.opener = null;
      return;
    }
    const at = withKeys();
    const isLost = at === null || at.matches(':disabled');
    const figure = this.ground.figure();
    if (held !== null && was === null) this.opener = this.place;
    if (held !== was && held !== null && figure && WORKS_IN_FIGURE.has(held)) {
      if (isLost || at === this.place?.element) {
        figure.focus();
        return;
      }
    }
    if (held === null && was !== null) {
      const { opener } = this;
      this.opener = null;
      if (opener && (isLost || at === figure) && takeByName(opener)) return;
    }
    if (isLost && this.place) takeNear(this.place);
  }
}

/** What has the keys, however deep; null: nothing. */
function withKeys(): Element | null {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return at === document.body || at === document.documentElement ? null : at;
}

/** Gives the keys to what is now called as the place was, as near to it as there is one. */
function takeByName({ element, name, around }: KeyPlace): boolean {
  for (const outer of around) {
    if (!outer.isConnected) continue;
    const same = [...stopsIn(outer)].find(
      (stop) => stop.localName === element.localName && nameOf(stop) === name,
    );
    if (!same) continue;
    same.focus();
    return true;
  }
  return false;
}

/**
 * Gives the keys to what stands where the place was: in the innermost surroundings that are left, what is called the same,
 * else what is new there, else what came after it, else what came before.
 */
function takeNear({ element, name, around, stops }: KeyPlace): void {
  for (const outer of around) {
    const left = outer.isConnected ? [...stopsIn(outer)] : [];
    if (left.length === 0) continue;
    const at = stops.indexOf(element);
    const isLeft = (stop: Element): boolean => (left as Element[]).includes(stop);
    const after = stops.slice(at + 1).find(isLeft);
    const before = stops.slice(0, Math.max(0, at)).reverse().find(isLeft);
    const hasAny = after !== undefined || before !== undefined;
    const same = left.find((stop) => stop.localName === element.localName && nameOf(stop) === name);
    const fresh = hasAny ? left.find((stop) => !stops.includes(stop)) : undefined;
    const here = left.find((stop) => stop.getAttribute('aria-current') !== null);
    const chosen = same ?? fresh ?? after ?? before ?? here ?? left[0];
    (chosen as HTMLElement).focus();
    return;
  }
}

const nameOf = (element: Element): string =>
  element.getAttribute('aria-label') ?? (element.textContent ?? '').replace(/\s+/g, ' ').trim();

function* aroundOf(element: Element): Generator<Element> {
  let at: Element | null = element;
  while (at) {
    at = at.assignedSlot ?? at.parentElement ?? ((at.getRootNode() as Partial<ShadowRoot>).host || null);
    if (at) yield at;
  }
}

/** Everything in it that Tab can come to, in the page's order, through all elements of our own. */
function* stopsIn(outer: Element): Generator<HTMLElement | SVGElement> {
  if (outer.hasAttribute('inert')) return;
  if (isStop(outer)) yield outer;
  const slotted = outer instanceof HTMLSlotElement ? outer.assignedElements() : [];
  const inner = slotted.length > 0 ? slotted : (outer.shadowRoot ?? outer).children;
  for (const one of inner) yield* stopsIn(one);
}

function isStop(element: Element): element is HTMLElement | SVGElement {
  if (!element.matches(STOPS) || element.matches(':disabled')) return false;
  if (!(element instanceof HTMLElement || element instanceof SVGElement) || element.tabIndex < 0)
    return false;
  return element.checkVisibility({ visibilityProperty: true });
}
