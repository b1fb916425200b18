import { beforeEach, describe, expect, test } from 'vitest';
import type { ControlPointRef } from '../../../src/view/pointer/hitControlPoint.ts';
import { PointerControl } from '../../../src/view/pointer/PointerControl.ts';

/** The little of an element that the control touches; Node's EventTarget does the rest. */
class FakeElement extends EventTarget {
  readonly style = { touchAction: '' };
  setPointerCapture(): void {}
  getBoundingClientRect(): { left: number; top: number } {
    return { left: 10, top: 20 };
  }
}

let element: FakeElement;
let log: unknown[][];
let pointUnder: ControlPointRef | null;
let isToolTaking: boolean;
let control: PointerControl;

beforeEach(() => {
  element = new FakeElement();
  log = [];
  pointUnder = null;
  isToolTaking = false;
  control = new PointerControl(element as unknown as HTMLElement, {
    orbit: (...args) => log.push(['orbit', ...args]),
    pan: (...args) => log.push(['pan', ...args]),
    zoom: (...args) => log.push(['zoom', ...args]),
    findPoint: () => pointUnder,
    tap: (x, y) => log.push(['tap', x, y]),
    toolDown: (...args) => isToolTaking && log.push(['tool down', ...args]) > 0,
    toolMove: (...args) => log.push(['tool', ...args]),
    toolUp: (...args) => log.push(['tool up', ...args]),
    dragPoint: (...args) => log.push(['drag', ...args]),
    selectPoint: (...args) => log.push(['select', ...args]),
    hover: (place) => place !== null && log.push(['hover', place.x, place.y]),
  });
});

const send = (type: string, x: number, y: number, more: Record<string, unknown> = {}): void => {
  const event = new Event(type, { cancelable: true });
  Object.assign(event, { clientX: x + 10, clientY: y + 20, pointerId: 1, pointerType: 'mouse' });
  Object.assign(event, { button: 0, buttons: 0, shiftKey: false, ...more });
  element.dispatchEvent(event);
};

describe('PointerControl', () => {
  test('a press that stays is a tap, in pixels of the element', () => {
    send('pointerdown', 100, 50);
    send('pointermove', 102, 51);
    send('pointerup', 102, 51);
    expect(log).toEqual([['tap', 102, 51]]);
  });

  test('a drag turns; with the right button or shift it pans; neither taps', () => {
    send('pointerdown', 100, 50);
    send('pointermove', 110, 50);
    send('pointermove', 115, 47);
    send('pointerup', 115, 47);
    expect(log).toEqual([
      ['orbit', 10, 0],
      ['orbit', 5, -3],
    ]);
    for (const more of [{ button: 2 }, { shiftKey: true }]) {
      log.length = 0;
      send('pointerdown', 100, 50, more);
      send('pointermove', 110, 58, more);
      send('pointerup', 110, 58, more);
      expect(log).toEqual([['pan', 10, 8]]);
    }
  });

  test('a finger may tremble further than a mouse before it turns the mould', () => {
    send('pointerdown', 100, 50, { pointerType: 'touch' });
    send('pointermove', 107, 50, { pointerType: 'touch' });
    send('pointerup', 107, 50, { pointerType: 'touch' });
    expect(log).toEqual([['tap', 107, 50]]);
  });

  test('a control point is selected by a click and moved by a drag that ends with done', () => {
    pointUnder = { line: 1, point: 2 };
    send('pointerdown', 100, 50);
    send('pointerup', 100, 50);
    send('pointerdown', 100, 50);
    send('pointermove', 130, 50);
    send('pointerup', 130, 50);
    expect(log).toEqual([
      ['select', pointUnder],
      ['drag', pointUnder, 130, 50, false],
      ['drag', pointUnder, 130, 50, true],
    ]);
  });

  test('two fingers pan by their middle and zoom by their gap; lifting one does not turn the mould', () => {
    send('pointerdown', 100, 100, { pointerType: 'touch', pointerId: 1 });
    send('pointerdown', 200, 100, { pointerType: 'touch', pointerId: 2 });
    send('pointermove', 300, 100, { pointerType: 'touch', pointerId: 2 });
    expect(log).toEqual([
      ['pan', 50, 0],
      ['zoom', 200, 100, 2],
    ]);
    log.length = 0;
    send('pointerup', 300, 100, { pointerType: 'touch', pointerId: 2 });
    send('pointermove', 160, 160, { pointerType: 'touch', pointerId: 1 });
    send('pointerup', 160, 160, { pointerType: 'touch', pointerId: 1 });
    expect(log).toEqual([]);
  });

  test('a second finger ends the drag of a point where it is', () => {
    pointUnder = { line: 0, point: 0 };
    send('pointerdown', 100, 100, { pointerType: 'touch', pointerId: 1 });
    send('pointermove', 140, 100, { pointerType: 'touch', pointerId: 1 });
    send('pointerdown', 200, 100, { pointerType: 'touch', pointerId: 2 });
    expect(log.at(-1)).toEqual(['drag', pointUnder, 140, 100, true]);
  });

  test('a tool that takes the press gets every move of it and its end, before control points and the camera', () => {
    isToolTaking = true;
    pointUnder = { line: 0, point: 0 };
    send('pointerdown', 100, 50);
    send('pointermove', 101, 50);
    send('pointerup', 101, 50);
    expect(log).toEqual([
      ['tool down', 100, 50, false],
      ['tool', 101, 50, false],
      ['tool up', 101, 50, false, true],
    ]);
  });

  test('Shift and the other buttons leave the tool alone; a second finger takes its press away', () => {
    isToolTaking = true;
    send('pointerdown', 100, 50, { shiftKey: true });
    send('pointermove', 110, 58, { shiftKey: true });
    send('pointerup', 110, 58, { shiftKey: true });
    expect(log).toEqual([['pan', 10, 8]]);
    log.length = 0;
    send('pointerdown', 100, 100, { pointerType: 'touch', pointerId: 1 });
    send('pointermove', 104, 100, { pointerType: 'touch', pointerId: 1 });
    send('pointerdown', 200, 100, { pointerType: 'touch', pointerId: 2 });
    send('pointermove', 208, 100, { pointerType: 'touch', pointerId: 2 });
    send('pointerup', 208, 100, { pointerType: 'touch', pointerId: 2 });
    send('pointermove', 130, 130, { pointerType: 'touch', pointerId: 1 });
    expect(log.map(([what]) => what)).toEqual(['tool down', 'tool', 'tool up', 'pan', 'zoom']);
    expect(log[2]).toEqual(['tool up', 104, 100, true, false]);
  });

  test('the wheel zooms to the pointer, up comes nearer, and the page does not scroll', () => {
    const event = new Event('wheel', { cancelable: true });
    Object.assign(event, { clientX: 60, clientY: 70, deltaY: -100, deltaMode: 0, ctrlKey: false });
    element.dispatchEvent(event);
    expect(event.defaultPrevented).toBe(true);
    expect(log[0].slice(0, 3)).toEqual(['zoom', 50, 50]);
    expect(log[0][3]).toBeCloseTo(Math.exp(0.12), 12);
  });

  test('hovers only without a button, and hears nothing after dispose', () => {
    send('pointermove', 5, 6);
    expect(log).toEqual([['hover', 5, 6]]);
    control.dispose();
    send('pointermove', 7, 8);
    expect(log).toHaveLength(1);
  });
});
