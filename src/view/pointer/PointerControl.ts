import type { ControlPointRef } from './hitControlPoint.ts';

/** Where the pointer rests, CSS pixels from the canvas's upper left corner. */
export interface HoverPlace {
  readonly x: number;
  readonly y: number;
  readonly isTouch?: boolean;
}

/** What pointer gestures come to. All places are CSS pixels from the canvas's upper left corner. */
export interface GestureTarget {
  orbit(dxPx: number, dyPx: number): void;
  pan(dxPx: number, dyPx: number): void;
  zoom(xPx: number, yPx: number, factor: number): void;
  /** The control point under the pointer, when points can be dragged now. */
  findPoint(xPx: number, yPx: number, isTouch: boolean): ControlPointRef | null;
  tap(xPx: number, yPx: number, isTouch: boolean): void;
  dragPoint(ref: ControlPointRef, xPx: number, yPx: number, done: boolean): void;
  selectPoint(ref: ControlPointRef): void;
  /** The press begins: true when a tool in hand takes it. */
  toolDown(xPx: number, yPx: number, isTouch: boolean): boolean;
  toolMove(xPx: number, yPx: number, isTouch: boolean): void;
  toolUp(xPx: number, yPx: number, isTouch: boolean, isWanted: boolean): void;
  /** The mouse rests or moves without a button, or a finger is held still and then moved; null: it left. */
  hover(place: HoverPlace | null): void;
}

/** A press that moves less than this is a click; fingers are shakier than a mouse. */
const CLICK_SLOP_PX = { mouse: 4, touch: 10 } as const;
/** So long a finger is held still before it reads instead of turning. Own choice. */
const HOLD_MS = 450;
/** Wheel: factor of distance for one notch of 100 units; a pinch on a touch pad sends smaller units with ctrl held. */
const WHEEL_PER_UNIT = 0.0012;
const PAD_PINCH_PER_UNIT = 0.01;
/** Lines to pixels for browsers that count the wheel in lines (WheelEvent.DOM_DELTA_LINE of the UI Events specification). */
const DOM_DELTA_LINE = 1;
const LINE_PX = 33;

type Press =
  | { readonly kind: 'none' }
  | { readonly kind: 'point'; readonly ref: ControlPointRef; moved: boolean }
  | { readonly kind: 'orbit' | 'pan'; moved: boolean }
  | { readonly kind: 'tool'; readonly isTouch: boolean }
  /** A finger that was held still: it reads what lies under it. */
  | { readonly kind: 'read' }
  | { readonly kind: 'pinch' };

interface Finger {
  startX: number;
  startY: number;
  /** When it came down, by the event's own clock, ms. */
  readonly startMs: number;
  x: number;
  y: number;
}

/** Turns pointer and wheel events of one element into orbit, pan, zoom, taps and point drags. */
export class PointerControl {
  private readonly fingers = new Map<number, Finger>();
  private press: Press = { kind: 'none' };
  private readonly stop = new AbortController();
  private holdTimer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly element: HTMLElement,
    private readonly target: GestureTarget,
  ) {
    element.style.touchAction = 'none';
    const options = { signal: this.stop.signal };
    element.addEventListener('pointerdown', (event) => this.down(event), options);
    element.addEventListener('pointermove', (event) => this.move(event), options);
    element.addEventListener('pointerup', (event) => this.up(event, true), options);
    element.addEventListener('pointercancel', (event) => this.up(event, false), options);
    // A finger that is lifted leaves too; what it read stays until the next touch.
    element.addEventListener(
      'pointerleave',
      (event) => {
        if (event.pointerType === 'mouse') this.target.hover(null);
      },
      options,
    );
    element.addEventListener('wheel', (event) => this.wheel(event), { ...options, passive: false });
    element.addEventListener('contextmenu', (event) => event.preventDefault(), options);
  }

  dispose(): void {
    this.stop.abort();
    clearTimeout(this.holdTimer);
    this.fingers.clear();
  }

  private place(event: MouseEvent): { x: number; y: number } {
    const box = this.element.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  private down(event: PointerEvent): void {
    const { x, y } = this.place(event);
    this.element.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, { startX: x, startY: y, startMs: event.timeStamp, x, y });
    this.target.hover(null);
    if (this.fingers.size === 2) {
      // A second finger turns whatever the first began into a pinch; a point being dragged stays where it is.
      this.finishPoint();
      this.finishTool(false);
      this.press = { kind: 'pinch' };
      return;
    }
    if (this.fingers.size > 2) return;
    const isPan = event.button === 1 || event.button === 2 || event.shiftKey;
    const isTouch = event.pointerType !== 'mouse';
    if (!isPan && this.target.toolDown(x, y, isTouch)) {
      this.press = { kind: 'tool', isTouch };
      return;
    }
    const ref = isPan ? null : this.target.findPoint(x, y, isTouch);
    if (ref !== null) this.press = { kind: 'point', ref, moved: false };
    else this.press = { kind: isPan ? 'pan' : 'orbit', moved: false };
    if (isTouch && this.press.kind === 'orbit') this.waitForHold();
  }

  /** A finger that does not move for a while reads from then on. */
  private waitForHold(): void {
    clearTimeout(this.holdTimer);
    this.holdTimer = setTimeout(() => {
      const [finger] = this.fingers.values();
      if (this.press.kind !== 'orbit' || this.press.moved || this.fingers.size !== 1) return;
      this.press = { kind: 'read' };
      this.target.hover({ x: finger.x, y: finger.y, isTouch: true });
    }, HOLD_MS);
  }

  /** A busy page hears of a move or a lift late, after the time of a hold has run out: by its own clock it came before. */
  private wasBusy(event: PointerEvent, finger: Finger): boolean {
    if (this.press.kind !== 'read' || event.timeStamp - finger.startMs >= HOLD_MS) return false;
    this.target.hover(null);
    return true;
  }

  private move(event: PointerEvent): void {
    const { x, y } = this.place(event);
    const finger = this.fingers.get(event.pointerId);
    if (finger === undefined) {
      if (event.pointerType === 'mouse' && event.buttons === 0) this.target.hover({ x, y });
      return;
    }
    const before = this.spread();
    const dx = x - finger.x;
    const dy = y - finger.y;
    finger.x = x;
    finger.y = y;
    if (this.wasBusy(event, finger)) this.press = { kind: 'orbit', moved: false };
    const { press } = this;
    if (press.kind === 'pinch') {
      const after = this.spread();
      if (before === null || after === null) return;
      this.target.pan(after.x - before.x, after.y - before.y);
      if (before.gapPx > 1 && after.gapPx > 1) this.target.zoom(after.x, after.y, after.gapPx / before.gapPx);
      return;
    }
    if (press.kind === 'none') return;
    if (press.kind === 'read') {
      this.target.hover({ x, y, isTouch: true });
      return;
    }
    if (press.kind === 'tool') {
      this.target.toolMove(x, y, press.isTouch);
      return;
    }
    if (!press.moved) {
      const slop = event.pointerType === 'mouse' ? CLICK_SLOP_PX.mouse : CLICK_SLOP_PX.touch;
      if (Math.hypot(x - finger.startX, y - finger.startY) < slop) return;
      press.moved = true;
    }
    if (press.kind === 'point') this.target.dragPoint(press.ref, x, y, false);
    else if (press.kind === 'pan') this.target.pan(dx, dy);
    else this.target.orbit(dx, dy);
  }

  private up(event: PointerEvent, isWanted: boolean): void {
    const finger = this.fingers.get(event.pointerId);
    if (finger === undefined) return;
    if (this.wasBusy(event, finger)) this.press = { kind: 'orbit', moved: false };
    const { press } = this;
    if (press.kind === 'point') {
      this.finishPoint();
    } else if (press.kind === 'tool') {
      this.finishTool(isWanted);
    } else if (press.kind === 'orbit' && !press.moved && isWanted && event.button === 0) {
      this.target.tap(finger.x, finger.y, event.pointerType !== 'mouse');
    }
    this.fingers.delete(event.pointerId);
    // After a pinch the finger that stays down does nothing: turning at once would throw the picture round.
    this.press = { kind: 'none' };
  }

  private finishPoint(): void {
    const { press } = this;
    if (press.kind !== 'point') return;
    const finger = [...this.fingers.values()][0];
    if (press.moved) this.target.dragPoint(press.ref, finger.x, finger.y, true);
    else this.target.selectPoint(press.ref);
  }

  private finishTool(isWanted: boolean): void {
    const { press } = this;
    if (press.kind !== 'tool') return;
    const finger = [...this.fingers.values()][0];
    this.target.toolUp(finger.x, finger.y, press.isTouch, isWanted);
  }

  /** Middle and gap of the first two fingers. */
  private spread(): { x: number; y: number; gapPx: number } | null {
    if (this.fingers.size < 2) return null;
    const [a, b] = [...this.fingers.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, gapPx: Math.hypot(a.x - b.x, a.y - b.y) };
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    const { x, y } = this.place(event);
    const units = event.deltaY * (event.deltaMode === DOM_DELTA_LINE ? LINE_PX : 1);
    const perUnit = event.ctrlKey ? PAD_PINCH_PER_UNIT : WHEEL_PER_UNIT;
    this.target.zoom(x, y, Math.exp(-units * perUnit));
  }
}
