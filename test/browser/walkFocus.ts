import type { Page } from 'playwright-core';

/** What a walk round the page by Tab came to. Controls are named by their place in the page, outermost first. */
export interface FocusWalk {
  /** Controls that were reached, in order, each once. */
  readonly reached: readonly string[];
  /** Controls in sight and enabled that Tab never came to. */
  readonly missed: readonly string[];
  /** Reached ones with neither an outline nor a shadow drawn round them while they have the keys. */
  readonly unmarked: readonly string[];
  /** Reached ones that lie outside the window, or under something else, while they have the keys. */
  readonly unseen: readonly string[];
  /** Reached ones that a screen reader would call by no name. */
  readonly unnamed: readonly string[];
}

/** More stops than any stage has: tables sort by their heads, words of the trade open by key. */
const MOST_STOPS = 400;

/**
 * Presses Tab from the page's head until it comes round, and holds what had the keys against every control in sight.
 * What may have the keys is read from the page by the rules of the HTML standard ("sequential focus navigation"): links,
 * buttons, fields, summaries and what has a tabindex; of a group of radio buttons one.
 */
export async function walkFocus(page: Page): Promise<FocusWalk> {
  await page.evaluate(installWalk);
  const wanted = await page.evaluate(() => window.focusWalk.listStops());
  for (let i = 0; i < MOST_STOPS; i += BLOCK) {
    for (let k = 0; k < BLOCK; k++) await page.keyboard.press('Tab');
    if (await page.evaluate(() => window.focusWalk.isRound())) break;
  }
  const { reached, unmarked, unseen, unnamed } = await page.evaluate(() => window.focusWalk.end());
  const met = new Set(reached);
  return { reached, missed: wanted.filter((stop) => !met.has(stop)), unmarked, unseen, unnamed };
}

/** So many presses between two looks whether the walk has come round. */
const BLOCK = 12;

declare global {
  interface Window {
    focusWalk: {
      listStops(): string[];
      isRound(): boolean;
      end(): Record<'reached' | 'unmarked' | 'unseen' | 'unnamed', string[]>;
    };
  }
}

/** Runs in the page. */
function installWalk(): void {
  const STOPS = 'a[href],button,input,select,textarea,summary,[tabindex],[contenteditable="true"]';
  const ids = new Map<Element, string>();
  const found = {
    reached: new Set<string>(),
    unmarked: new Set<string>(),
    unseen: new Set<string>(),
    unnamed: new Set<string>(),
  };
  let first: Element | null = null;
  let last: Element | null = null;
  let isRound = false;

  const parentOf = (el: Element): Element | null =>
    el.assignedSlot ?? el.parentElement ?? ((el.getRootNode() as ShadowRoot).host || null);

  function nameOf(el: Element): string {
    const labelled = (el.getAttribute('aria-labelledby') ?? '')
      .split(/\s+/)
      .map((id) => (id && (el.getRootNode() as Document | ShadowRoot).getElementById(id)?.textContent) || '')
      .join(' ');
    const labels = [...((el as HTMLInputElement).labels ?? [])].map((label) => label.textContent).join(' ');
    const own = el instanceof HTMLInputElement || el instanceof HTMLSelectElement ? '' : el.textContent;
    const names = [labelled, el.getAttribute('aria-label'), labels, own, el.getAttribute('title')];
    return (names.find((name) => name?.trim()) ?? '').replace(/\s+/g, ' ').trim().slice(0, 60);
  }

  /** Tags of custom elements round it, its own tag, its name, and its number when several are called so. */
  function idOf(el: Element): string {
    const known = ids.get(el);
    if (known) return known;
    const hosts: string[] = [];
    for (let at: Element | null = el; at; at = parentOf(at))
      if (at !== el && at.localName.includes('-')) hosts.unshift(at.localName.replace('scute-', ''));
    const base = `${hosts.slice(1).join(' ')} ${el.localName} "${nameOf(el)}"`;
    const taken = new Set(ids.values());
    let id = base;
    for (let n = 2; taken.has(id); n++) id = `${base} ${n}`;
    ids.set(el, id);
    return id;
  }

  function isStop(el: Element): boolean {
    if (!(el instanceof HTMLElement || el instanceof SVGElement)) return false;
    if (el.tabIndex < 0 || el.matches(':disabled') || el.matches('input[type="hidden"]')) return false;
    if (!el.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })) return false;
    for (let at: Element | null = el; at; at = parentOf(at)) if (at.hasAttribute('inert')) return false;
    if (el instanceof HTMLInputElement && el.type === 'radio' && !el.checked) {
      const root = el.getRootNode() as Document | ShadowRoot;
      const group = [...root.querySelectorAll<HTMLInputElement>('input[type="radio"]')].filter(
        ({ name, form }) => name === el.name && form === el.form,
      );
      if (group.some(({ checked }) => checked)) return false;
      // Of an unset group the first is come to.
      if (group[0] !== el) return false;
    }
    return true;
  }

  function* all(root: Document | ShadowRoot): Generator<Element> {
    for (const el of root.querySelectorAll('*')) {
      yield el;
      if (el.shadowRoot) yield* all(el.shadowRoot);
    }
  }

  function rootOfStops(el: Element): boolean {
    const modal = [...all(document)].find((d) => d instanceof HTMLDialogElement && d.matches(':modal'));
    if (!modal) return true;
    for (let at: Element | null = el; at; at = parentOf(at)) if (at === modal) return true;
    return false;
  }

  const isMarked = (el: Element): boolean => {
    const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(el);
    if ((outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2) || boxShadow !== 'none')
      return true;
    // In a drawing the ring is a shape of its own.
    const ring = el instanceof SVGElement ? el.ownerSVGElement?.querySelector('.ring') : null;
    if (!ring?.checkVisibility({ visibilityProperty: true, opacityProperty: true })) return false;
    const { stroke, strokeWidth } = getComputedStyle(ring);
    return stroke !== 'none' && Number.parseFloat(strokeWidth) >= 2;
  };

  /** In the window and on top at its middle or at one of four places round it. */
  function isSeen(el: Element): boolean {
    const box = el.getBoundingClientRect();
    const inside = (x: number, y: number): boolean => {
      if (x < 0 || y < 0 || x >= innerWidth || y >= innerHeight) return false;
      let top = document.elementFromPoint(x, y);
      while (top?.shadowRoot) {
        const inner = top.shadowRoot.elementFromPoint(x, y);
        if (!inner || inner === top) break;
        top = inner;
      }
      for (let at: Element | null = top; at; at = parentOf(at)) if (at === el) return true;
      // A field under its own label, a canvas laid over its host.
      return top !== null && (el as HTMLInputElement).labels !== undefined
        ? [...((el as HTMLInputElement).labels ?? [])].some((label) => label.contains(top))
        : false;
    };
    const shares = [0.5, 0.15, 0.85];
    return shares.some((u) => shares.some((v) => inside(box.left + u * box.width, box.top + v * box.height)));
  }

  const onKeyUp = (event: KeyboardEvent): void => {
    const el = event.composedPath()[0];
    if (event.key !== 'Tab' || !(el instanceof Element) || el === document.body) return;
    // A field for a time of day keeps the keys for several presses.
    if (el === last) return;
    last = el;
    first ??= el;
    const id = idOf(el);
    if (found.reached.has(id)) {
      isRound ||= el === first;
      return;
    }
    found.reached.add(id);
    if (!isMarked(el)) found.unmarked.add(id);
    if (!isSeen(el)) found.unseen.add(id);
    if (nameOf(el) === '') found.unnamed.add(id);
  };
  window.addEventListener('keyup', onKeyUp, true);

  window.focusWalk = {
    listStops: () =>
      [...all(document)].filter((el) => el.matches(STOPS) && isStop(el) && rootOfStops(el)).map(idOf),
    isRound: () => isRound,
    end: () => {
      window.removeEventListener('keyup', onKeyUp, true);
      return {
        reached: [...found.reached],
        unmarked: [...found.unmarked],
        unseen: [...found.unseen],
        unnamed: [...found.unnamed],
      };
    },
  };
}
