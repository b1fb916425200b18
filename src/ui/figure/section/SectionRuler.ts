import { css, html, LitElement, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../../sharedStyles.ts';
import { RulerEvent } from './RulerEvent.ts';

/** Where an end stands in the picture, CSS pixels. */
export interface RulerEnd {
  readonly x: number;
  readonly y: number;
}

const FINE_STEPS = 1;
const COARSE_STEPS = 10;

/** The two ends of a ruler on the face of a cut: dragged, or moved by arrow keys (with Shift ten times as far). */
@customElement('scute-section-ruler')
export class SectionRuler extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: absolute;
        inset: 0;
        overflow: hidden;
        pointer-events: none;
      }
      button {
        position: absolute;
        left: -22px;
        top: -22px;
        width: var(--target);
        height: var(--target);
        padding: 0;
        border: none;
        background: none;
        border-radius: 50%;
        cursor: grab;
        pointer-events: auto;
        touch-action: none;
      }
      button:hover:not(:disabled) {
        background: none;
      }
      button::before {
        content: '';
        position: absolute;
        inset: 14px;
        border: 2px solid var(--accent);
        border-radius: 50%;
        background: var(--paper);
      }
    `,
  ];

  @property({ attribute: false }) ends: readonly [RulerEnd, RulerEnd] | null = null;
  /** What it measures, in words. */
  @property() text = '';
  private held: 0 | 1 | null = null;

  override render() {
    return html`${([0, 1] as const).map(
      (end) => html`<button
        aria-label="Ruler, ${end === 0 ? 'first' : 'second'} end: ${this.text}. Arrow keys move it."
        @pointerdown=${(e: PointerEvent) => this.take(e, end)}
        @pointermove=${(e: PointerEvent) => this.move(e, end)}
        @pointerup=${() => this.leave()}
        @pointercancel=${() => this.leave()}
        @keydown=${(e: KeyboardEvent) => this.onKey(e, end)}
      ></button>`,
    )}`;
  }

  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('ends')) return;
    const buttons = this.renderRoot.querySelectorAll('button');
    buttons.forEach((button, i) => {
      const end = this.ends?.[i];
      button.hidden = !end;
      if (end) button.style.transform = `translate(${end.x}px, ${end.y}px)`;
    });
  }

  private take(event: PointerEvent, end: 0 | 1): void {
    this.held = end;
    (event.target as HTMLElement).setPointerCapture(event.pointerId);
  }

  private move(event: PointerEvent, end: 0 | 1): void {
    if (this.held !== end) return;
    const box = this.getBoundingClientRect();
    this.dispatchEvent(new RulerEvent(end, event.clientX - box.left, event.clientY - box.top));
  }

  private leave(): void {
    this.held = null;
  }

  private onKey(event: KeyboardEvent, end: 0 | 1): void {
    const step = event.shiftKey ? COARSE_STEPS : FINE_STEPS;
    const steps = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    }[event.key] as [number, number] | undefined;
    if (!steps) return;
    event.preventDefault();
    event.stopPropagation();
    this.dispatchEvent(new RulerEvent(end, 0, 0, steps));
  }
}
