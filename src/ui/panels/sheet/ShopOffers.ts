import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatMass, type UnitSystem } from '../../../core/units.ts';
import { keyOfJob } from '../../../session/FinishedJob.ts';
import { clearLog } from '../../../session/logActions.ts';
import type { PlanEdit } from '../../../session/SessionStore.ts';
import { type ShopOffer, takeOffer } from '../../../session/shopOffers.ts';
import type { ShopState } from '../../control/ShopKeeper.ts';
import { sayOutliers } from '../../control/sayOutliers.ts';
import { CommandEvent, PlanEditEvent } from '../../events.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { shopUnit } from '../mix/shopUnits.ts';
import { panelStyles } from '../panelStyles.ts';

/** What the shop's own logs say of its waste and pace, to be taken into the plan; and this job's log, to be remembered. */
@customElement('scute-shop-offers')
export class ShopOffers extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 10px;
        align-items: center;
        padding: 8px 0;
        border-bottom: 1px solid var(--line-soft);
      }
    `,
  ];

  @property({ attribute: false }) shop!: ShopState;
  @property() units: UnitSystem = 'metric';

  override render() {
    const { offers, jobs, log, hasLog, canRemember, asideCount } = this.shop;
    const probes = log?.probes ?? [];
    const note = log?.lessons.workingNote ?? null;
    const outliers = log ? sayOutliers(log, this.units) : [];
    return html`
      ${
        probes.length > 0
          ? html`<ul aria-label="What the pin says">
            ${probes.map(
              ({ coatsOn, meanRatio, count }) => html`<li>
                <span>
                  With ${coatsOn} on, the pin finds ${Math.round(100 * meanRatio)} % of what is predicted (${count}
                  ${count === 1 ? 'point' : 'points'}).
                </span>
              </li>`,
            )}
          </ul>`
          : nothing
      }
      ${note ? html`<p class="problem">${note}</p>` : nothing}
      ${outliers.map((said) => html`<p class="small soft">${said} It counts like any other.</p>`)}
      ${
        offers.length > 0
          ? html`<ul aria-label="What your own batches say">
            ${offers.map(
              (offer) => html`<li>
                <span>${sayOffer(offer, this.units)}</span>
                <button
                  aria-label="Use it: ${sayOffer(offer, this.units)}"
                  @click=${() => this.edit(takeOffer(offer))}
                >
                  Use it
                </button>
              </li>`,
            )}
          </ul>`
          : nothing
      }
      ${
        canRemember
          ? html`<div class="row after">
            <button @click=${() => this.dispatchEvent(new CommandEvent({ do: 'remember-job' }))}>
              Remember this job's waste and pace
            </button>
          </div>`
          : nothing
      }
      ${
        hasLog
          ? html`<div class="row after">
            <button @click=${() => this.edit(clearLog())}>Clear the log, to build this mould again</button>
          </div>`
          : nothing
      }
      ${
        jobs.length > 0
          ? html`<ul aria-label="Jobs remembered">
            ${jobs.map(
              (job) => html`<li>
                <span>${job.name}, ${job.date}, ${job.systemName}</span>
                <button
                  aria-label="Forget ${job.name} of ${job.date}"
                  @click=${() => this.dispatchEvent(new CommandEvent({ do: 'forget-job', key: keyOfJob(job) }))}
                >
                  Forget
                </button>
              </li>`,
            )}
          </ul>`
          : nothing
      }
      ${
        asideCount > 0
          ? html`<div class="row after">
            <button @click=${() => this.dispatchEvent(new CommandEvent({ do: 'save-aside' }))}>
              Save what could not be read (${asideCount})
            </button>
          </div>`
          : nothing
      }
    `;
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }
}

/** "Your last 6 batches left 85 g in the bucket; the plan has 60 g." */
export function sayOffer({ kind, value, instead, batches }: ShopOffer, units: UnitSystem): string {
  if (kind === 'waste') {
    return `Your last ${batches} batches left ${formatMass(value, units)} in the bucket; the plan has ${formatMass(instead, units)}.`;
  }
  const { unit, per } = shopUnit('pace', units);
  const pace = (cm2PerMin: number) => String(Number((cm2PerMin / per).toPrecision(3)));
  return `Your last ${batches} ${kind} batches went on at ${pace(value)} ${unit}; the plan has ${pace(instead)}.`;
}
