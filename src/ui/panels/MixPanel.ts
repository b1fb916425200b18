import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatMass } from '../../core/units.ts';
import { componentBasisKey, setComponent, setMaterialNumber } from '../../session/materialActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { type MixRow, mixShares } from '../mixShares.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/NumberField.ts';

/** Stage 4: what the shell is mixed from, and how much of each goes into it. */
@customElement('scute-mix-panel')
export class MixPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      h4 {
        margin: 18px 0 0;
        font-size: var(--size-body);
        text-transform: none;
      }
      .basis {
        font-size: var(--size-small);
        color: var(--ink-soft);
        margin-top: 6px;
        border-left: 1px solid var(--line-control);
        padding-left: 10px;
      }
      .group {
        padding-bottom: 14px;
        border-bottom: 1px solid var(--line-soft);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { material } = this.session.plan;
    return html`
      <h2>Mix</h2>
      <p class="lead">${material.name}. Set it to your maker's data sheet; the sheet wins over these values.</p>
      ${this.renderAmounts()}
      <h3>The system</h3>
      <p class="basis">Parts: ${material.basis['partsByMass'] ?? 'no basis given'}.</p>
      ${material.components.map(
        (component, i) => html`
          <div class="group">
            <h4>${capital(component.name)}</h4>
            <div class="fields">
              <scute-number-field
                label="Parts by mass"
                .value=${component.partsByMass}
                step="0.1"
                min="0.001"
                max="1000"
                @value=${(e: ValueEvent<number>) =>
                  this.edit(setComponent(i, { partsByMass: e.value }), e, `parts-${i}`)}
              ></scute-number-field>
              <scute-number-field
                label="Density"
                unit="g/cm³"
                .value=${component.densityGPerCm3}
                step="0.01"
                min="0.05"
                max="25"
                @value=${(e: ValueEvent<number>) =>
                  this.edit(setComponent(i, { densityGPerCm3: e.value }), e, `density-${i}`)}
              ></scute-number-field>
            </div>
            <p class="basis">${material.basis[componentBasisKey(material, i)] ?? 'no basis given'}.</p>
          </div>
        `,
      )}
      ${this.renderShare('fibreShare', 'Fibre in reinforced coats', '% on the mix')}
      ${this.renderDensity('fibreDensityGPerCm3', 'Density of the fibre')}
      ${this.renderShare('airShare', 'Air beaten in', '% of the volume')}
      ${this.renderShare('lossShare', 'Left in buckets and brushes', '% more to mix')}
      ${this.renderDensity('rubberDensityGPerCm3', 'Density of the rubber')}
    `;
  }

  private renderAmounts() {
    const { answer, plan, prefs } = this.session;
    if (!answer) return html`<p class="note">The amounts come with the first answer.</p>`;
    const { rows, total } = mixShares(answer.result, plan.material);
    const hasFibre = total.fibreG > 0;
    const cell = (g: number) => html`<td>${g > 0 ? formatMass(g, prefs.units) : '\u2013'}</td>`;
    const row = (r: MixRow, isTotal: boolean) => html`<tr class=${isTotal ? 'total' : nothing}>
      <th scope="row">${r.name}</th>
      ${r.componentsG.map(cell)} ${hasFibre ? cell(r.fibreG) : nothing} ${cell(r.mixedG)}
    </tr>`;
    return html`
      <h3>To mix in all</h3>
      <div class="scroll">
        <table>
          <caption class="visually-hidden">
            Mass of each component to mix, coat by coat
          </caption>
          <thead>
            <tr>
              <th scope="col">Coat</th>
              ${plan.material.components.map((c) => html`<th scope="col">${capital(c.name)}</th>`)}
              ${hasFibre ? html`<th scope="col">Fibre</th>` : nothing}
              <th scope="col">Mixed</th>
            </tr>
          </thead>
          <tbody>
            ${rows.map((r) => row(r, false))} ${row(total, true)}
          </tbody>
        </table>
      </div>
      <p class="note">
        ${percent(plan.material.lossShare)} % for what stays in buckets and brushes is in these. They are sums, not
        bucketfuls: batches that are on the wall before they set are not planned yet.
      </p>
    `;
  }

  private renderShare(key: 'fibreShare' | 'airShare' | 'lossShare', label: string, unit: string) {
    const { material } = this.session.plan;
    return html`<div class="group">
      <div class="stack">
        <scute-number-field
          label=${label}
          unit=${unit}
          .value=${percent(material[key])}
          step="0.5"
          min="0"
          max=${key === 'airShare' ? 90 : 100}
          @value=${(e: ValueEvent<number>) => this.edit(setMaterialNumber(key, e.value / 100), e, key)}
        ></scute-number-field>
      </div>
      <p class="basis">${material.basis[key] ?? 'no basis given'}.</p>
    </div>`;
  }

  private renderDensity(key: 'fibreDensityGPerCm3' | 'rubberDensityGPerCm3', label: string) {
    const { material } = this.session.plan;
    return html`<div class="group">
      <div class="stack">
        <scute-number-field
          label=${label}
          unit="g/cm³"
          .value=${material[key]}
          step="0.01"
          min="0.05"
          max="25"
          @value=${(e: ValueEvent<number>) => this.edit(setMaterialNumber(key, e.value), e, key)}
        ></scute-number-field>
      </div>
      <p class="basis">${material.basis[key] ?? 'no basis given'}.</p>
    </div>`;
  }

  private edit(edit: PlanEdit, event: ValueEvent<number>, gesture: string): void {
    this.dispatchEvent(new PlanEditEvent(edit, event.isGesture ? gesture : null));
  }
}

function percent(share: number): number {
  return Number((share * 100).toFixed(4));
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
