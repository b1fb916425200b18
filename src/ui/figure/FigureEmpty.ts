import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SessionState } from '../../session/SessionStore.ts';
import { CommandEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';

/** An empty board with the place of the mould dashed over it, for a figure that is not drawn yet. */
const SKETCH = html`<svg class="sketch" viewBox="0 0 260 190" width="260" height="190" aria-hidden="true">
  <path d="M20 138 120 176 242 146 142 112Z"></path>
  <path class="dashed" d="M92 140C78 96 96 92 100 74 104 52 112 22 134 22 158 22 164 50 166 74 168 94 188 100 174 140"></path>
  <ellipse class="dashed" cx="133" cy="142" rx="41" ry="14"></ellipse>
  <path d="M40 22v112M34 22h14M34 134h14"></path>
</svg>`;

/** What stands in the picture's place while there is no answer to draw: why, and what to do. */
@customElement('scute-figure-empty')
export class FigureEmpty extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: absolute;
        inset: 0;
        pointer-events: none;
      }
      div {
        display: grid;
        place-content: center;
        justify-items: center;
        gap: 14px;
        height: 100%;
        text-align: center;
        padding: 24px;
        max-width: 34em;
        margin: 0 auto;
      }
      div:not(.soft) {
        pointer-events: auto;
      }
      @container (max-height: 460px) {
        div {
          gap: 6px;
          padding: 8px 16px;
        }
        .sketch {
          height: 120px;
        }
      }
      .sketch path,
      .sketch ellipse {
        fill: none;
        stroke: var(--line-control);
        stroke-width: 1.2;
      }
      .sketch .dashed {
        stroke-dasharray: 6 5;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { scan, job, failure } = this.session;
    if (job) {
      return html`<div class="soft">
        ${SKETCH}
        <p>${scan ? scan.name : 'The scan'} is being put on its board.</p>
      </div>`;
    }
    if (scan && failure) {
      return html`<div>
        ${SKETCH}
        <p>${failure.code === 'stopped' ? 'Stopped before the first answer.' : failure.message}</p>
        <button class="primary" @click=${() => this.dispatchEvent(new CommandEvent({ do: 'plan-again' }))}>
          Work it out again
        </button>
      </div>`;
    }
    if (scan) return nothing;
    return html`<div>
      ${SKETCH}
      <p>Drop a scan of the rubber here: STL, PLY, OBJ, GLB or 3MF.</p>
      <button class="primary" @click=${() => this.dispatchEvent(new CommandEvent({ do: 'pick-file' }))}>
        Open a scan
      </button>
    </div>`;
  }
}
