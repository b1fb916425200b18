import { css, html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { MaterialSystem, SystemUse } from '../../../core/material/MaterialSystem.ts';
import { formatLength } from '../../../core/units.ts';
import { scaleCoatsTo, totalThicknessMm } from '../../../session/coatActions.ts';
import {
  asOwnSystem,
  builtInSystems,
  readMaterialFile,
  renameSystem,
  takeSideSystem,
  takeSystem,
  writeMaterialFile,
} from '../../../session/materialActions.ts';
import { CommandEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { saveBlob } from '../../saveBlob.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { askEdit } from './askEdit.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import '../../fields/TextField.ts';

/** Value of the choice that stands for the system as the plan holds it, when it is none of those on the shelf. */
const AS_IN_PLAN = '';
/** A material file is a few kilobytes; larger ones are something else, bytes. */
const FILE_LIMIT = 2_000_000;
/** Nearer to the usual thickness than this is there already, mm. */
const THICKNESS_SLACK_MM = 0.05;

/** Which system the shell (or the rubber, or the filler) is mixed from: built-in, kept, or out of a file. */
@customElement('scute-system-chooser')
export class SystemChooser extends SystemPart {
  static override styles = [
    sharedStyles,
    panelStyles,
    mixStyles,
    css`
      .ways {
        margin-top: 10px;
      }
    `,
  ];

  @property() use: SystemUse = 'shell';
  /** The user's own systems that were kept, of any use. */
  @property({ attribute: false }) kept: readonly MaterialSystem[] = [];
  @state() private isNaming = false;
  @query('input[type="file"]') private fileInput!: HTMLInputElement;

  override render() {
    const system = this.edited;
    const builtIn = builtInSystems(this.use);
    const kept = this.kept.filter((one) => one.uses.includes(this.use));
    const onShelf = [...builtIn, ...kept].find((one) => one.id === system.id) ?? null;
    const isAsShelved = onShelf !== null && JSON.stringify(onShelf) === JSON.stringify(system);
    return html`
      <label>
        <span class="small soft">${this.sayUse()}</span>
        <select
          aria-label=${this.sayUse()}
          @change=${(e: Event) => this.pick([...kept, ...builtIn], (e.target as HTMLSelectElement).value)}
        >
          ${
            isAsShelved
              ? nothing
              : html`<option value=${AS_IN_PLAN} .selected=${true}>
                ${system.name}${onShelf ? ', with your changes' : ''}
              </option>`
          }
          ${kept.map((one) => this.renderOption(one, isAsShelved && one === onShelf, 'kept: '))}
          ${builtIn.map((one) => this.renderOption(one, isAsShelved && one === onShelf, ''))}
        </select>
      </label>
      ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
      ${this.use === 'shell' ? this.renderThickness() : nothing}
      <div class="row ways">
        <button @click=${() => this.fileInput.click()}>From file</button>
        <button @click=${this.save}>To file</button>
        ${this.renderKeeping(kept, isAsShelved)}
      </div>
      ${this.isNaming ? this.renderNaming() : nothing}
      <input type="file" hidden aria-label="Material file" accept=".json" @change=${this.onPicked} />
    `;
  }

  private sayUse(): string {
    if (this.use === 'rubber') return 'The rubber is';
    return this.use === 'filler' ? 'The filler is' : 'The shell is built of';
  }

  private renderOption(system: MaterialSystem, isChosen: boolean, before: string) {
    return html`<option value=${system.id} .selected=${isChosen}>${before}${system.name}</option>`;
  }

  /** Offers the usual thickness of the system in place of the one that the coats come to now. */
  private renderThickness() {
    const { plan, prefs } = this.session;
    const { shellMm } = plan.material;
    if (shellMm === null) return nothing;
    const nowMm = totalThicknessMm(plan.coats);
    const say = (mm: number) => formatLength(mm, prefs.units);
    if (Math.abs(nowMm - shellMm.usual) < THICKNESS_SLACK_MM) {
      return html`<p class="small soft ways">The coats come to ${say(nowMm)}, as usual in this system.</p>`;
    }
    return html`
      <p class="small soft ways">
        Usual in this system: ${say(shellMm.usual)}, from ${say(shellMm.least)} to ${say(shellMm.most)}. The coats come to
        ${say(nowMm)}.
      </p>
      <div class="row ways">
        <button @click=${() => askEdit(this, scaleCoatsTo(shellMm.usual))}>Go to ${say(shellMm.usual)}</button>
      </div>
    `;
  }

  private renderKeeping(kept: readonly MaterialSystem[], isAsShelved: boolean) {
    const system = this.edited;
    const isKept = kept.some((one) => one.id === system.id);
    if (!isKept) {
      return html`<button
        aria-expanded=${this.isNaming ? 'true' : 'false'}
        @click=${() => {
          this.isNaming = !this.isNaming;
        }}
      >
        Keep as my own
      </button>`;
    }
    return html`
      ${
        isAsShelved
          ? nothing
          : html`<button @click=${() => this.ask({ do: 'keep-material', system })}>Keep the changes</button>`
      }
      <button @click=${() => this.ask({ do: 'drop-material', id: system.id })}>No longer keep it</button>
    `;
  }

  private renderNaming() {
    return html`<div class="stack">
      <scute-text-field
        label="Keep it under the name"
        .value=${this.edited.name}
        @value=${(e: ValueEvent<string>) => this.keepAs(e.value)}
      ></scute-text-field>
      <div class="row">
        <button @click=${() => this.keepAs(`${this.edited.name}, own`)}>Keep as \u201c${this.edited.name}, own\u201d</button>
      </div>
    </div>`;
  }

  private keepAs(name: string): void {
    const { plan } = this.session;
    const taken = [...this.kept, ...plan.otherMaterials].map((one) => one.id);
    const own = asOwnSystem(this.edited, name, taken);
    this.isNaming = false;
    askEdit(this, renameSystem(this.slotOf, own));
    this.ask({ do: 'keep-material', system: own });
  }

  private pick(shelf: readonly MaterialSystem[], id: string): void {
    const system = shelf.find((one) => one.id === id);
    if (!system) return;
    this.refusal = '';
    this.take(system);
  }

  private take(system: MaterialSystem): void {
    if (this.slotOf === 'rubber' || this.slotOf === 'filler') {
      askEdit(this, takeSideSystem(this.slotOf, system));
    } else askEdit(this, takeSystem(system));
  }

  private save(): void {
    const { name, text } = writeMaterialFile(this.edited);
    saveBlob(name, new Blob([text], { type: 'application/json' }));
  }

  private async onPicked(): Promise<void> {
    const file = this.fileInput.files?.[0];
    this.fileInput.value = '';
    if (!file) return;
    this.refusal = '';
    try {
      if (file.size > FILE_LIMIT) throw new RangeError('It is too large to be a material file.');
      const system = readMaterialFile(await file.text());
      if (system.uses.includes(this.use)) this.take(system);
      else this.refusal = `${system.name} is meant for ${system.uses.join(' and ')}, not for ${this.use}.`;
    } catch (error) {
      const why =
        error instanceof SyntaxError
          ? 'It is not JSON.'
          : error instanceof Error
            ? error.message
            : String(error);
      this.refusal = `${file.name} was not taken. ${why} Nothing was changed.`;
    }
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
