import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { MaterialSystem } from '../../core/material/MaterialSystem.ts';
import { formatMass } from '../../core/units.ts';
import { sayMoney } from '../../report/sayMoney.ts';
import { dropOtherSystem, idleSystems } from '../../session/materialActions.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import type { ShopState } from '../control/ShopKeeper.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { askEdit } from './mix/askEdit.ts';
import { mixStyles } from './mix/mixStyles.ts';
import { shopUnit } from './mix/shopUnits.ts';
import { panelStyles } from './panelStyles.ts';
import './FoldSection.ts';
import './load/CastingPanel.ts';
import './load/LiftingPanel.ts';
import './mix/BatchTable.ts';
import './mix/BenchFields.ts';
import './mix/CostTable.ts';
import './mix/NoteItems.ts';
import './mix/ShoppingList.ts';
import './mix/SupplyFields.ts';
import './mix/SystemChooser.ts';
import './mix/SystemComparisonTable.ts';
import './mix/SystemEditor.ts';
import './sheet/ShopOffers.ts';

/** Warnings that belong to the day and the log: they stand on the stage that shows those. */
const OF_THE_DAY: ReadonlySet<string> = new Set([
  'window-missed',
  'day-too-short',
  'log-gap',
  'log-stray',
  'nothing-left',
]);

/** Stage 4: what the shell is mixed from, what to weigh and to buy, what it costs, and whether it will hold. */
@customElement('scute-mix-panel')
export class MixPanel extends LitElement {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  @property({ attribute: false }) session!: SessionState;
  /** The user's own systems that were kept. */
  @property({ attribute: false }) kept: readonly MaterialSystem[] = [];
  /** What the shop has learned from finished jobs; null before it was read. */
  @property({ attribute: false }) shop: ShopState | null = null;

  override render() {
    const { session, kept } = this;
    const { answer, plan, prefs } = session;
    const { folded } = prefs;
    const jobs = this.shop?.jobs ?? [];
    const result = answer?.result ?? null;
    const notes = (result?.workNotes ?? []).filter((note) => !OF_THE_DAY.has(note.code));
    return html`
      <h2>Mix</h2>
      <p class="lead">
        ${plan.material.name}. Set it to your maker's data sheet; the sheet wins over these values.
      </p>
      <scute-notes-of-work
        .units=${session.prefs.units}
        .notes=${notes}
        .pieceNames=${new Map((result?.pieces ?? []).map((piece) => [piece.id, sayPiece(piece)]))}
      ></scute-notes-of-work>
      <scute-section key="mix-system" label="The system" .folded=${folded}>
        <scute-system-chooser .session=${session} .kept=${kept}></scute-system-chooser>
      </scute-section>
      <scute-section rare key="mix-values" label="Its values" note="each with where it comes from" .terms=${['thickener', 'accelerator', 'retarder', 'working time', 'partial cure', 'full cure']} .folded=${folded}>
        <scute-system-editor .session=${session} .jobs=${jobs}></scute-system-editor>
      </scute-section>
      ${this.renderOthers()}
      <scute-section
        key="mix-batches"
        label="Batches"
        note=${result ? `${result.batches.length} to mix` : ''}
        .terms=${['batch', 'scale']}
        .folded=${folded}
      >
        <scute-batch-table .session=${session}></scute-batch-table>
      </scute-section>
      <scute-section rare key="mix-bench" label="Bench" note=${this.sayBench()} .folded=${folded}>
        ${
          this.shop && this.shop.offers.length > 0
            ? html`<scute-shop-offers .shop=${this.shop} .units=${prefs.units}></scute-shop-offers>`
            : nothing
        }
        <scute-bench-fields .session=${session}></scute-bench-fields>
      </scute-section>
      <scute-section key="mix-shopping" label="To buy" note="what is left over comes with it" .folded=${folded}>
        <scute-shopping-list .session=${session}></scute-shopping-list>
      </scute-section>
      <scute-section
        rare
        key="mix-supplies"
        label="Beside the mixes"
        note="shims, release, fasteners, currency"
        .terms=${['shim', 'release agent', 'fastener']}
        .folded=${folded}
      >
        <scute-supply-fields .session=${session}></scute-supply-fields>
      </scute-section>
      <scute-section rare key="mix-sides" label="Rubber and filler" note=${this.saySides()} .folded=${folded}>
        ${(['rubber', 'filler'] as const).map(
          (slot) => html`
            <scute-system-chooser .session=${session} .kept=${kept} .slotOf=${slot} use=${slot}></scute-system-chooser>
            <scute-system-editor class="after" .session=${session} .slotOf=${slot} .jobs=${jobs}></scute-system-editor>
            <p class="after"></p>
          `,
        )}
      </scute-section>
      <scute-section key="mix-cost" label="Cost" note=${this.sayCost()} .folded=${folded}>
        <scute-cost-table .session=${session}></scute-cost-table>
      </scute-section>
      <scute-section key="mix-compare" label="Systems side by side" note="for this shell" .folded=${folded}>
        <scute-system-comparison .session=${session}></scute-system-comparison>
      </scute-section>
      <scute-section key="mix-casting" label="When it is filled" note=${this.sayCasting()} .terms=${['closing force', 'fastener']} .folded=${folded}>
        <scute-casting-panel .session=${session}></scute-casting-panel>
      </scute-section>
      <scute-section key="mix-lifting" label="In the hand" note=${this.sayHeaviest()} .terms=${['dry weight']} .folded=${folded}>
        <scute-lifting-panel .session=${session}></scute-lifting-panel>
      </scute-section>
    `;
  }

  /** Further systems that single coats are mixed from; one that no coat uses any more can be taken out. */
  private renderOthers() {
    const { session } = this;
    const { plan, prefs } = session;
    const idle = new Set(idleSystems(plan).map((system) => system.id));
    return plan.otherMaterials.map(
      (system) => html`<scute-section
        rare
        key="mix-other-${system.id}"
        label=${system.name}
        note=${idle.has(system.id) ? 'no coat uses it' : 'for single coats'}
        .folded=${prefs.folded}
      >
        <scute-system-editor .session=${session} .slotOf=${{ otherId: system.id }}></scute-system-editor>
        ${
          idle.has(system.id)
            ? html`<div class="row actions">
              <button @click=${() => askEdit(this, dropOtherSystem(system.id))}>Take it out of the plan</button>
            </div>`
            : nothing
        }
      </scute-section>`,
    );
  }

  private saySides(): string {
    const { rubber, filler } = this.session.plan;
    return rubber.name === filler.name ? rubber.name : `${rubber.name}, ${filler.name}`;
  }

  private sayBench(): string {
    const { bench } = this.session.plan;
    const offers = this.shop?.offers.length ?? 0;
    if (offers > 0)
      return offers === 1 ? 'your own batches offer a value' : `your own batches offer ${offers} values`;
    const steps = Math.min(...bench.scales.map((scale) => scale.stepG));
    const hands = bench.hands === 1 ? 'one pair of hands' : `${bench.hands} pairs of hands`;
    const { unit, per } = shopUnit('bucket', this.session.prefs.units);
    return `bucket ${Number((bench.bucketMl / per).toFixed(1))} ${unit}, steps of ${steps} g, ${hands}`;
  }

  private sayCasting(): string {
    const casting = this.session.answer?.result.casting ?? null;
    if (casting === null) return '';
    return casting.fasteners === 1 ? '1 fastener' : `${casting.fasteners} fasteners`;
  }

  private sayHeaviest(): string {
    const lifts = this.session.answer?.result.handling.filter((lift) => lift.state === 'dry') ?? [];
    if (lifts.length === 0) return '';
    const heaviestKg = Math.max(...lifts.map((lift) => lift.massKg));
    return `${formatMass(heaviestKg * 1000, this.session.prefs.units)} at most, dry`;
  }

  private sayCost(): string {
    const { answer, prefs } = this.session;
    if (!answer) return '';
    const { cost, shell } = answer.result;
    return cost.total === null
      ? 'no prices yet'
      : `${sayMoney(cost.total, cost.currency)} for ${formatMass(shell.massG, prefs.units)}`;
  }
}
