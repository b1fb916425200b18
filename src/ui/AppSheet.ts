import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { LinePicture } from '../jobs/protocol.ts';
import { setTrueLength } from '../session/scanActions.ts';
import type { Aspect } from '../view/viewTypes.ts';
import type { Workshop } from './control/Workshop.ts';
import { type Command, CommandEvent, PlanEditEvent, PrefsEvent } from './events.ts';
import type { ValueEvent } from './fields/ValueEvent.ts';
import type { MouldFigure } from './figure/MouldFigure.ts';
import { RubberEvent } from './figure/RubberEvent.ts';
import { themeIcon } from './icons.ts';
import { proposalLines } from './proposalLines.ts';
import { saveBlob } from './saveBlob.ts';
import { sharedStyles } from './sharedStyles.ts';
import { stageStates } from './stageStates.ts';
import { unitNow } from './unitNow.ts';
import './fields/ChoiceField.ts';
import './figure/MouldFigure.ts';
import './NoticeList.ts';
import './panels/CoatsPanel.ts';
import './panels/MixPanel.ts';
import './panels/PartingPanel.ts';
import './panels/ScanPanel.ts';
import './panels/SheetPanel.ts';
import './ShopSheet.ts';
import './StageRail.ts';
import './TitleBlock.ts';

const ASPECT_KEYS: Readonly<Record<string, Aspect>> = {
  '1': 'front',
  '2': 'back',
  '3': 'left',
  '4': 'right',
  '5': 'top',
};

/** Commands that put the pencil on the rubber. */
const PENCIL_COMMANDS: ReadonlySet<Command['do']> = new Set<Command['do']>([
  'draw-start',
  'draw-cap',
  'split-piece',
  'edit-lines',
  'avoid-start',
  'clear-start',
  'measure-start',
]);

/** The whole sheet: border, margin with the stages, figure, panel, title block. Hears every request and passes it on. */
@customElement('scute-app')
export class AppSheet extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
        height: 100dvh;
        padding: 14px;
        background: var(--paper);
        color: var(--ink);
      }
      .sheet {
        position: relative;
        height: 100%;
        border: var(--heavy) solid var(--line);
        display: grid;
        grid-template: 'rail figure panel' minmax(0, 1fr) 'foot foot foot' auto / 172px minmax(0, 1fr) 412px;
      }
      /* Centring marks, as a drawing sheet has them, in the middle of each side. */
      .sheet::before,
      .sheet::after {
        content: '';
        position: absolute;
        pointer-events: none;
      }
      .sheet::before {
        left: -14px;
        right: -14px;
        top: 50%;
        height: 0;
        border-top: 0 solid;
        background:
          linear-gradient(var(--line), var(--line)) left / 12px 1px no-repeat,
          linear-gradient(var(--line), var(--line)) right / 12px 1px no-repeat;
        padding-top: 1px;
      }
      .sheet::after {
        top: -14px;
        bottom: -14px;
        left: 50%;
        width: 1px;
        background:
          linear-gradient(var(--line), var(--line)) top / 1px 12px no-repeat,
          linear-gradient(var(--line), var(--line)) bottom / 1px 12px no-repeat;
      }
      scute-rail {
        grid-area: rail;
        border-right: 1px solid var(--line);
        min-width: 0;
      }
      .figure {
        grid-area: figure;
        position: relative;
        min-width: 0;
        min-height: 0;
      }
      scute-figure {
        height: 100%;
      }
      .figure.paper scute-figure {
        visibility: hidden;
      }
      scute-shop-sheet {
        position: absolute;
        inset: 0;
      }
      .figure:not(.paper) scute-shop-sheet {
        display: none;
      }
      aside {
        grid-area: panel;
        border-left: 1px solid var(--line);
        display: flex;
        flex-direction: column;
        min-width: 0;
        min-height: 0;
      }
      .panel {
        /* Holds what is laid out absolutely inside it: words for the ear alone would lengthen the page under the sheet. */
        position: relative;
        flex: 1;
        min-height: 0;
        overflow-y: auto;
        padding: 16px 22px 28px;
      }
      .settings {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px;
        padding: 8px 14px 8px 22px;
        border-bottom: 1px solid var(--line-soft);
      }
      .settings button {
        display: flex;
        align-items: center;
        gap: 8px;
      }
      scute-title-block {
        grid-area: foot;
        border-top: var(--heavy) solid var(--line);
        min-width: 0;
      }
      scute-notices {
        position: absolute;
        z-index: 5;
        left: 190px;
        right: 430px;
        top: 46px;
        max-width: 640px;
        margin: 0 auto;
      }
      .drop {
        position: absolute;
        inset: 10px;
        z-index: 10;
        display: grid;
        place-content: center;
        background: color-mix(in srgb, var(--paper) 88%, transparent);
        border: 2px dashed var(--accent);
        font-size: var(--size-heading);
        pointer-events: none;
      }
      @media (max-width: 1099px) {
        :host {
          padding: 10px;
          height: 100dvh;
        }
        .sheet {
          grid-template:
            'rail' auto
            'figure' minmax(300px, 46fr)
            'panel' minmax(200px, 40fr)
            'foot' auto / minmax(0, 1fr);
        }
        .sheet::before,
        .sheet::after {
          display: none;
        }
        scute-rail {
          border-right: none;
          border-bottom: 1px solid var(--line);
        }
        aside {
          border-left: none;
          border-top: 1px solid var(--line);
        }
        scute-notices {
          left: 14px;
          right: 14px;
          top: 90px;
        }
      }
      @media (max-width: 599px) {
        :host {
          padding: 0;
          height: auto;
          min-height: 100dvh;
        }
        .sheet {
          display: block;
          border: none;
          padding-bottom: 140px;
        }
        .figure {
          height: 68dvh;
          min-height: 380px;
        }
        .panel {
          padding: 14px 16px 24px;
          overflow: visible;
        }
        scute-title-block {
          position: fixed;
          left: 0;
          right: 0;
          bottom: 0;
          z-index: 4;
          background: var(--paper);
        }
        scute-notices {
          position: fixed;
          top: 8px;
        }
      }
      @media print {
        :host {
          display: block;
          height: auto;
          padding: 0;
        }
        .sheet {
          display: block;
          height: auto;
          border: none;
        }
        .sheet::before,
        .sheet::after,
        scute-rail,
        scute-title-block,
        scute-notices,
        aside,
        scute-figure {
          display: none !important;
        }
        .figure:not(.paper) scute-shop-sheet,
        scute-shop-sheet {
          display: block;
          position: static;
        }
      }
    `,
  ];

  @property({ attribute: false }) workshop!: Workshop;

  @state() private isDropping = false;
  /** Pieces slid by themselves, by index, mm; the slider for all takes them back in. */
  @state() private slides: ReadonlyMap<number, number> = new Map();
  @query('input[type="file"]') private fileInput!: HTMLInputElement;
  @query('scute-figure') private figure!: MouldFigure;
  private readonly darkness = matchMedia('(prefers-color-scheme: dark)');
  private proposed: Suggestion | null = null;
  private proposedLines: readonly LinePicture[] | null = null;
  private unsubscribe: () => void = () => {};
  private dragDepth = 0;

  override connectedCallback(): void {
    super.connectedCallback();
    this.unsubscribe = this.workshop.subscribe(() => this.requestUpdate());
    this.darkness.addEventListener('change', this.redraw);
    this.addEventListener(PlanEditEvent.type, this.onEdit);
    this.addEventListener(PrefsEvent.type, this.onPrefs);
    this.addEventListener(CommandEvent.type, this.onCommand);
    this.addEventListener(RubberEvent.type, this.onRubber);
    window.addEventListener('keydown', this.onKey);
    window.addEventListener('dragenter', this.onDragEnter);
    window.addEventListener('dragover', this.onDragOver);
    window.addEventListener('dragleave', this.onDragLeave);
    window.addEventListener('drop', this.onDrop);
    document.addEventListener('visibilitychange', this.onHidden);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.unsubscribe();
    this.darkness.removeEventListener('change', this.redraw);
    window.removeEventListener('keydown', this.onKey);
    window.removeEventListener('dragenter', this.onDragEnter);
    window.removeEventListener('dragover', this.onDragOver);
    window.removeEventListener('dragleave', this.onDragLeave);
    window.removeEventListener('drop', this.onDrop);
    document.removeEventListener('visibilitychange', this.onHidden);
  }

  override willUpdate(): void {
    const { theme } = this.workshop.store.state.prefs;
    const root = document.documentElement;
    if (theme === 'system') delete root.dataset['theme'];
    else root.dataset['theme'] = theme;
  }

  override render() {
    const { store, drafter, cutter } = this.workshop;
    const session = store.state;
    const { prefs } = session;
    const scheme = this.schemeNow();
    return html`
      <div class="sheet">
        <scute-rail .stage=${prefs.stage} .states=${stageStates(session)}></scute-rail>
        <main class="figure ${prefs.stage === 'sheet' ? 'paper' : ''}">
          <scute-figure
            ?inert=${prefs.stage === 'sheet'}
            .session=${session}
            .drafter=${drafter.state}
            .section=${drafter.state.mode === 'look' ? cutter.picture : null}
            .proposal=${this.proposalShown()}
            .themeKey=${scheme}
          ></scute-figure>
          <scute-shop-sheet
            .session=${session}
            .sides=${this.workshop.sides.sides}
          ></scute-shop-sheet>
        </main>
        <aside aria-label="Choices of this stage">
          <div class="settings">
            <scute-choice
              bare
              label="Units"
              .options=${[{ value: 'metric', text: 'metric' }, { value: 'us', text: 'US' }]}
              .value=${prefs.units}
              @value=${(e: ValueEvent<string>) => store.setPrefs({ units: e.value === 'us' ? 'us' : 'metric' })}
            ></scute-choice>
            <button class="quiet" @click=${() => store.setPrefs({ theme: scheme === 'dark' ? 'light' : 'dark' })}>
              ${themeIcon} ${scheme === 'dark' ? 'Light sheet' : 'Dark sheet'}
            </button>
          </div>
          <div class="panel">${this.renderPanel()}</div>
        </aside>
        <scute-title-block .session=${session}></scute-title-block>
        <scute-notices .notices=${session.notices}></scute-notices>
        ${this.isDropping ? html`<div class="drop">Drop to open</div>` : nothing}
      </div>
      <input
        type="file"
        hidden
        aria-label="Scan or plan file"
        accept=".stl,.ply,.obj,.glb,.3mf,.json"
        @change=${this.onPicked}
      />
    `;
  }

  private renderPanel() {
    const { store, drafter, finder, charter, keeper } = this.workshop;
    const session = store.state;
    switch (session.prefs.stage) {
      case 'scan':
        return html`<scute-scan-panel
          .session=${session}
          .drafter=${drafter.state}
          .measuredMm=${drafter.measuredMm}
        ></scute-scan-panel>`;
      case 'parting':
        return html`<scute-parting-panel
          .session=${session}
          .drafter=${drafter.state}
          .canFinish=${drafter.canFinish}
          .finder=${finder.state}
          .charter=${charter.state}
          .slides=${this.slides}
          .isMarkingNotHere=${this.workshop.isMarkingNotHere}
        ></scute-parting-panel>`;
      case 'coats':
        return html`<scute-coats-panel .session=${session} .kept=${keeper.state.materials}></scute-coats-panel>`;
      case 'mix':
        return html`<scute-mix-panel .session=${session} .kept=${keeper.state.materials} .shop=${keeper.state}></scute-mix-panel>`;
      case 'sheet':
        return html`<scute-sheet-panel .session=${session} .shop=${keeper.state}></scute-sheet-panel>`;
    }
  }

  /** Lines of the suggestion that is looked at; the same list while it is the same one, so that the figure draws it once. */
  private proposalShown(): readonly LinePicture[] | null {
    const { shown, suggestions } = this.workshop.finder.state;
    const suggestion = shown === null ? null : (suggestions[shown] ?? null);
    if (suggestion !== this.proposed) {
      this.proposed = suggestion;
      this.proposedLines = suggestion && proposalLines(suggestion);
    }
    return this.proposedLines;
  }

  private schemeNow(): 'light' | 'dark' {
    const { theme } = this.workshop.store.state.prefs;
    if (theme !== 'system') return theme;
    return this.darkness.matches ? 'dark' : 'light';
  }

  /** Prints when the sheet has its pictures, or when it is known that it gets none: the sheet then says so. */
  private async printSheet(): Promise<void> {
    await this.workshop.sides.ready();
    await this.updateComplete;
    window.print();
  }

  private readonly redraw = () => this.requestUpdate();

  private readonly onEdit = (event: Event) => {
    const { edit, gesture } = event as PlanEditEvent;
    this.workshop.store.edit(edit, gesture);
  };

  private readonly onPrefs = (event: Event) => {
    const { change } = event as PrefsEvent;
    // A pencil left down on another stage would draw where nobody expects it.
    if (change.stage) {
      this.workshop.drafter.rest();
      this.workshop.finder.hold(null);
    }
    if (change.apart !== undefined) this.slides = new Map();
    this.workshop.store.setPrefs(change);
  };

  private readonly onRubber = (event: Event) => {
    const { what } = event as RubberEvent;
    const { drafter } = this.workshop;
    if (what.do === 'add') this.workshop.hitRubber(what.hit.point);
    else if (what.do === 'move') drafter.movePoint(what.line, what.point, what.hit.point, what.done);
    else drafter.select(what.line, what.point);
  };

  private readonly onCommand = (event: Event) => {
    this.carryOut((event as CommandEvent).command);
  };

  private carryOut(command: Command): void {
    const { workshop } = this;
    const { store, drafter } = workshop;
    // What is only looked at makes room for what is drawn or marked.
    if (PENCIL_COMMANDS.has(command.do)) workshop.finder.hold(null);
    switch (command.do) {
      case 'pick-file':
        this.fileInput.click();
        break;
      case 'open-file':
        void workshop.openFile(command.file);
        break;
      case 'open-demo':
        void workshop.openDemo();
        break;
      case 'save-plan':
        this.savePlan();
        break;
      case 'print':
        void this.printSheet();
        break;
      case 'save-picture':
        void this.savePicture();
        break;
      case 'cancel':
        workshop.runner.cancel();
        break;
      case 'plan-again':
        void workshop.planAgain();
        break;
      case 'undo':
        workshop.undo();
        break;
      case 'redo':
        workshop.redo();
        break;
      case 'gesture-end':
        store.endGesture();
        break;
      case 'draw-start':
        drafter.startDrawing();
        break;
      case 'draw-close':
        drafter.setClosed(command.closed);
        break;
      case 'draw-back':
        drafter.stepBack();
        break;
      case 'draw-finish':
        drafter.finish();
        break;
      case 'draw-cancel':
      case 'measure-cancel':
      case 'clear-cancel':
        drafter.rest();
        break;
      case 'draw-cap':
        drafter.startCap();
        break;
      case 'draw-snap':
        drafter.setSnap(command.to, command.on);
        break;
      case 'split-piece':
        drafter.startSplitting(command.piece);
        break;
      case 'smooth-line':
        drafter.smoothLine(command.line);
        break;
      case 'edit-lines':
        drafter.startEditing();
        break;
      case 'select-line':
        drafter.select(command.line, command.point);
        break;
      case 'delete-point':
        drafter.deleteSelected();
        break;
      case 'clear-start':
        workshop.startMarking('keep-clear');
        break;
      case 'measure-start':
        drafter.startMeasuring();
        break;
      case 'measure-take': {
        const measured = drafter.measuredMm;
        drafter.rest();
        const unit = unitNow(store.state.answer);
        if (measured !== null) store.edit(setTrueLength(measured, command.trueMm, unit));
        break;
      }
      case 'avoid-start':
        workshop.startMarking('not-here');
        break;
      case 'suggest-count':
        workshop.finder.setCount(command.count);
        break;
      case 'suggest-start':
        void workshop.finder.start();
        break;
      case 'suggest-stop':
        workshop.finder.stop();
        break;
      case 'suggest-show':
        workshop.finder.show(command.index);
        break;
      case 'suggest-hold':
        workshop.finder.hold(command.index);
        break;
      case 'suggest-take':
        workshop.finder.take(command.index);
        break;
      case 'chart-of':
        workshop.charter.choose(command.of);
        break;
      case 'fly-to':
        this.figure.flyTo(command.atMm);
        break;
      case 'slide-piece':
        this.slides = new Map(this.slides).set(command.piece, command.mm);
        this.figure.setApartOf(command.piece, command.mm);
        break;
      case 'keep-material':
        void workshop.keeper.keepMaterial(command.system);
        break;
      case 'drop-material':
        void workshop.keeper.dropMaterial(command.id);
        break;
      case 'remember-job':
        void workshop.keeper.rememberJob();
        break;
      case 'forget-job':
        void workshop.keeper.forgetJob(command.key);
        break;
      case 'save-aside': {
        const { name, text } = workshop.keeper.asideFile();
        saveBlob(name, new Blob([text], { type: 'application/json' }));
        break;
      }
      case 'dismiss':
        store.dismiss(command.topic);
        break;
    }
  }

  private savePlan(): void {
    try {
      const { name, text } = this.workshop.planFile();
      saveBlob(name, new Blob([text], { type: 'application/json' }));
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      this.workshop.store.notify('save', 'problem', `The plan was not saved. ${why}`);
    }
  }

  private async savePicture(): Promise<void> {
    const blob = await this.figure.takePicture();
    if (blob) saveBlob(`${this.workshop.planFile().name.replace('.scute.json', '')}.png`, blob);
  }

  private readonly onPicked = () => {
    const file = this.fileInput.files?.[0];
    // Emptied, so that the same file can be picked again after it was changed.
    this.fileInput.value = '';
    if (file) void this.workshop.openFile(file);
  };

  private readonly onKey = (event: KeyboardEvent) => {
    const { drafter } = this.workshop;
    const isTyping = isTextEntry(event.composedPath()[0]);
    const key = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && !event.altKey) {
      if (isTyping) return;
      if (key === 'z' && !event.shiftKey) this.carryOut({ do: 'undo' });
      else if ((key === 'z' && event.shiftKey) || key === 'y') this.carryOut({ do: 'redo' });
      else return;
      event.preventDefault();
      return;
    }
    if (isTyping || event.altKey) return;
    const aspect = ASPECT_KEYS[event.key];
    if (aspect) {
      this.figure.lookFrom(aspect);
      return;
    }
    if (drafter.state.mode === 'look') return;
    if (event.key === 'Escape') drafter.rest();
    else if (event.key === 'Enter' && event.composedPath()[0] instanceof HTMLButtonElement === false)
      drafter.finish();
    else if (event.key === 'Backspace' || event.key === 'Delete') {
      if (drafter.state.mode === 'edit') drafter.deleteSelected();
      else drafter.stepBack();
      event.preventDefault();
    }
  };

  private readonly onDragEnter = (event: DragEvent) => {
    if (!event.dataTransfer?.types.includes('Files')) return;
    this.dragDepth++;
    this.isDropping = true;
  };

  private readonly onDragOver = (event: DragEvent) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  };

  private readonly onDragLeave = () => {
    this.dragDepth = Math.max(0, this.dragDepth - 1);
    if (this.dragDepth === 0) this.isDropping = false;
  };

  private readonly onDrop = (event: DragEvent) => {
    event.preventDefault();
    this.dragDepth = 0;
    this.isDropping = false;
    const file = event.dataTransfer?.files[0];
    if (file) void this.workshop.openFile(file);
  };

  private readonly onHidden = () => {
    if (document.visibilityState === 'hidden') void this.workshop.flush();
  };
}

function isTextEntry(target: EventTarget | undefined): boolean {
  if (target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement) return true;
  if (!(target instanceof HTMLInputElement)) return false;
  return !['range', 'checkbox', 'radio', 'button'].includes(target.type);
}
