import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatArea, formatLength, formatMass, formatVolume } from '../core/units.ts';
import { totalThicknessMm } from '../session/coatActions.ts';
import { isStale, type SessionState } from '../session/SessionStore.ts';
import { sayPull } from './azimuth.ts';
import { mixShares } from './mixShares.ts';
import { massCell, sayShareBound, volumeCell } from './sayAmounts.ts';
import { saySize } from './sayLengths.ts';
import { sharedStyles } from './sharedStyles.ts';
import { sumCoats } from './sumCoats.ts';

/** The shop sheet: everything the plan knows, on paper. On the screen it lies on the table; printed, it is all there is. */
@customElement('scute-shop-sheet')
export class ShopSheet extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
        overflow: auto;
        background: var(--paper-sunk);
        padding: 24px;
      }
      article {
        max-width: 820px;
        margin: 0 auto;
        /* Paper stays paper on a dark page. */
        color-scheme: light;
        background: var(--paper-print);
        color: var(--ink);
        border: var(--heavy) solid var(--line);
        font-size: 1rem;
      }
      header,
      footer {
        display: flex;
        flex-wrap: wrap;
      }
      header {
        border-bottom: var(--heavy) solid var(--line);
      }
      footer {
        border-top: var(--heavy) solid var(--line);
      }
      .cell {
        flex: 1 1 auto;
        padding: 10px 14px;
        border-right: 1px solid var(--line);
      }
      .cell:last-child {
        border-right: none;
      }
      .cell b {
        display: block;
        font-size: 1.25rem;
      }
      section {
        padding: 14px 18px;
        break-inside: avoid;
      }
      section + section {
        border-top: 1px solid var(--line-soft);
      }
      h3 {
        margin-top: 0;
      }
      img {
        display: block;
        width: 100%;
        max-height: 440px;
        object-fit: contain;
      }
      figcaption {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 18px;
        color: var(--ink-soft);
        font-size: var(--size-small);
        margin-top: 6px;
      }
      .cautions li {
        padding: 6px 0 6px 14px;
        border-left: 3px solid var(--accent);
        margin-top: 8px;
      }
      .two {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(300px, 1fr));
        gap: 0 32px;
      }
      @media print {
        :host {
          padding: 0;
          overflow: visible;
          background: none;
        }
        article {
          max-width: none;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property() picture = '';
  @property() caption = '';

  override render() {
    const { answer, plan, scan, prefs } = this.session;
    if (!answer || !scan) {
      return html`<article><section><p>The sheet is filled in when the plan is worked out.</p></section></article>`;
    }
    const { units } = prefs;
    const { result } = answer;
    const { shell } = result;
    const mix = mixShares(result, plan.material);
    const standing = isStale(this.session)
      ? 'These numbers answer an earlier plan; a new answer is under way.'
      : answer.isFinal
        ? ''
        : 'Rough numbers; the fine ones are under way.';
    return html`
      <article aria-label="Shop sheet">
        <header>
          <div class="cell"><span class="small soft">Job</span><b>${plan.job.name}</b>${plan.job.shop}</div>
          <div class="cell">
            <span class="small soft">Shell</span><b>${formatMass(shell.massG, units)}</b>
            ${sayShareBound(shell.massErrorG, shell.massG)}
          </div>
          <div class="cell">
            <span class="small soft">Thickness</span><b>${formatLength(totalThicknessMm(plan.coats), units)}</b>
            ${plan.coats.length} ${plan.coats.length === 1 ? 'coat' : 'coats'}
          </div>
          <div class="cell">
            <span class="small soft">Pieces</span><b>${result.pieces.length}</b>
            ${result.pieces.map((p) => p.name).join(', ')}
          </div>
        </header>
        ${standing ? html`<section><p class="problem">${standing}</p></section>` : nothing}
        ${
          this.picture
            ? html`<section>
              <figure>
                <img src=${this.picture} alt=${this.caption} />
                <figcaption>
                  <span>${this.caption}</span>
                  ${result.pieces.map(
                    (p, i) => html`<span><span class="swatch piece-${i % 6}"></span> ${p.name}</span>`,
                  )}
                </figcaption>
              </figure>
            </section>`
            : nothing
        }
        <section>
          <h3>Pieces</h3>
          <table>
            <thead>
              <tr>
                <th scope="col">Piece</th>
                <th scope="col">Pulls</th>
                <th scope="col">Rubber covered</th>
                <th scope="col">Flange</th>
                <th scope="col">Volume</th>
                <th scope="col">Weight</th>
              </tr>
            </thead>
            <tbody>
              ${result.pieces.map(
                (p) => html`<tr>
                  <th scope="row">${p.name}</th>
                  <td>${sayPull(p.pull)}</td>
                  <td>${formatArea(p.areaMm2, units)}</td>
                  <td>${p.flange.lengthMm > 0 ? formatLength(p.flange.lengthMm, units) : '\u2013'}</td>
                  <td>${volumeCell(p.volumeMm3, p.volumeErrorMm3, units)}</td>
                  <td>${massCell(p.massG, p.massErrorG, units)}</td>
                </tr>`,
              )}
            </tbody>
          </table>
        </section>
        <section>
          <h3>Coats, from the rubber outward</h3>
          <table>
            <thead>
              <tr>
                <th scope="col">Coat</th>
                <th scope="col">Kind</th>
                <th scope="col">Thick</th>
                <th scope="col">Volume</th>
                <th scope="col">Mass</th>
                <th scope="col">Laid</th>
              </tr>
            </thead>
            <tbody>
              ${sumCoats(result).map(
                (coat) => html`<tr>
                  <th scope="row">${coat.name}</th>
                  <td>${coat.kind}</td>
                  <td>${formatLength(coat.toMm - coat.fromMm, units)}</td>
                  <td>${volumeCell(coat.volumeMm3, coat.volumeErrorMm3, units)}</td>
                  <td>${massCell(coat.massG, coat.massErrorG, units)}</td>
                  <td aria-label="to tick off">\u2610</td>
                </tr>`,
              )}
              ${this.renderFlange()}
              <tr class="total">
                <th scope="row">Together</th>
                <td></td>
                <td></td>
                <td>${volumeCell(shell.volumeMm3, shell.volumeErrorMm3, units)}</td>
                <td>${massCell(shell.massG, shell.massErrorG, units)}</td>
                <td></td>
              </tr>
            </tbody>
          </table>
        </section>
        <section class="two">
          <div>
            <h3>To mix in all</h3>
            <table>
              <tbody>
                ${plan.material.components.map(
                  (c, i) => html`<tr>
                    <th scope="row">${c.name}</th>
                    <td>${formatMass(mix.total.componentsG[i], units)}</td>
                  </tr>`,
                )}
                ${
                  mix.total.fibreG > 0
                    ? html`<tr>
                      <th scope="row">fibre</th>
                      <td>${formatMass(mix.total.fibreG, units)}</td>
                    </tr>`
                    : nothing
                }
                <tr class="total">
                  <th scope="row">Mixed</th>
                  <td>${formatMass(mix.total.mixedG, units)}</td>
                </tr>
              </tbody>
            </table>
            <p class="small soft">
              ${plan.material.name}, with ${Number((100 * plan.material.lossShare).toFixed(2))} % for what stays in
              buckets. Batches are not planned yet.
            </p>
          </div>
          <div>
            <h3>The mould</h3>
            <dl class="facts">
              <div><dt>Size of the scan</dt><dd>${saySize(result.scan.sizeMm, units)}</dd></div>
              <div><dt>Rubber</dt><dd>${formatArea(result.rubber.areaMm2, units)}</dd></div>
              <div>
                <dt>Parting wall</dt>
                <dd>
                  ${formatLength(
                    result.partingLines.reduce((sum, line) => sum + line.lengthMm, 0),
                    units,
                  )}
                </dd>
              </div>
              ${
                result.rubber.layer
                  ? html`<div>
                    <dt>Rubber, ${formatLength(result.rubber.layer.thicknessMm, units)} thick</dt>
                    <dd>
                      ${formatVolume(result.rubber.layer.volumeMm3, units)},
                      ${formatMass(result.rubber.layer.massG, units)}
                    </dd>
                  </div>`
                  : nothing
              }
            </dl>
          </div>
        </section>
        ${
          result.cautions.length > 0
            ? html`<section>
              <h3>Take care</h3>
              <ul class="cautions">
                ${result.cautions.map((c) => html`<li><b>${c.step}.</b> ${c.text}</li>`)}
              </ul>
            </section>`
            : nothing
        }
        <footer>
          <div class="cell small">Scan ${scan.name}</div>
          <div class="cell small">Worked out in steps of ${formatLength(result.resolutionMm, units)}</div>
          <div class="cell small">
            The material's own data sheet and your local rules come before this sheet.
          </div>
        </footer>
      </article>
    `;
  }

  private renderFlange() {
    const { answer, plan, prefs } = this.session;
    const flanges = answer?.result.pieces.map((piece) => piece.flange) ?? [];
    const volumeMm3 = flanges.reduce((sum, f) => sum + f.volumeMm3, 0);
    if (volumeMm3 === 0 || plan.parting.flange === null) return nothing;
    const errorMm3 = flanges.reduce((sum, f) => sum + f.volumeErrorMm3, 0);
    const massG = flanges.reduce((sum, f) => sum + f.massG, 0);
    return html`<tr>
      <th scope="row">Flange, both sides</th>
      <td>reinforced</td>
      <td>${formatLength(plan.parting.flange.thicknessMm, prefs.units)}</td>
      <td>${volumeCell(volumeMm3, errorMm3, prefs.units)}</td>
      <td>${massCell(massG, (massG * errorMm3) / volumeMm3, prefs.units)}</td>
      <td aria-label="to tick off">\u2610</td>
    </tr>`;
  }
}
