import { css, html, LitElement } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { hearAnnouncements } from '../announce.ts';
import { sharedStyles } from '../sharedStyles.ts';

/** A sentence stays this long, ms, so that a reader who walks by finds no old news. */
const KEPT_MS = 6000;

/** The page's one polite live region: what is announced is read out from here, and seen nowhere. */
@customElement('scute-live-region')
export class LiveRegion extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      /* At the sheet's head: at its foot it would lengthen the page by a pixel. */
      :host {
        position: absolute;
        left: 0;
        top: 0;
      }
    `,
  ];

  @state() private text = '';
  /** Turns with every sentence: two equal ones after each other are two changes, which are both read. */
  private isOdd = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private stop: () => void = () => {};

  override connectedCallback(): void {
    super.connectedCallback();
    this.stop = hearAnnouncements((text) => this.say(text));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.stop();
    clearTimeout(this.timer);
  }

  override render() {
    return html`<div class="visually-hidden" role="status">${this.text}</div>`;
  }

  private say(text: string): void {
    this.isOdd = !this.isOdd;
    this.text = this.isOdd ? text : `${text}\u00a0`;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.text = '';
    }, KEPT_MS);
  }
}
