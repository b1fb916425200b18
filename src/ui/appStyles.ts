import { css } from 'lit';
import { flat, low, narrow, phone, tiny, upright } from './widths.ts';

/** The sheet's border and the places of its regions at every width. The figure and the title block never leave the window. */
export const appStyles = css`
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
    grid-template:
      'rail figure panel' minmax(0, 1fr)
      'settings figure panel' auto
      'foot foot foot' auto / 172px minmax(0, 1fr) 412px;
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
    min-height: 0;
    overflow-y: auto;
  }
  scute-settings {
    grid-area: settings;
    border-right: 1px solid var(--line);
    min-width: 0;
  }
  .figure {
    grid-area: figure;
    position: relative;
    min-width: 0;
    min-height: 0;
    overflow: hidden;
    /* Elements of the figure lay themselves out by its size, which no window's size tells. */
    container-type: size;
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
    /* Tables set themselves closer where the panel is narrow. */
    container-type: inline-size;
    flex: 1;
    min-height: 0;
    overflow-y: auto;
    overscroll-behavior: contain;
    padding: var(--gap-4) 22px 28px;
  }
  scute-hints {
    margin-bottom: var(--gap-4);
  }
  scute-notices {
    flex: none;
    max-height: 45%;
    overflow-y: auto;
  }
  scute-title-block {
    grid-area: foot;
    border-top: var(--heavy) solid var(--line);
    min-width: 0;
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
  @media ${narrow} {
    .sheet::before,
    .sheet::after {
      display: none;
    }
    scute-rail,
    scute-settings {
      border-right: none;
      border-bottom: 1px solid var(--line);
    }
    scute-rail {
      overflow: visible;
    }
  }
  @media ${flat} {
    :host {
      padding: 10px;
    }
    .panel {
      padding-left: var(--gap-4);
      padding-right: var(--gap-4);
    }
    .sheet {
      grid-template:
        'rail rail settings' auto
        'figure panel panel' minmax(0, 1fr)
        'foot foot foot' auto / minmax(0, 1fr) 308px 64px;
    }
  }
  @media ${upright} {
    :host {
      padding: 10px;
    }
    .sheet {
      grid-template:
        'rail settings' auto
        'figure figure' minmax(0, 60fr)
        'panel panel' minmax(0, 40fr)
        'foot foot' auto / minmax(0, 1fr) 64px;
    }
    aside {
      border-left: none;
      border-top: 1px solid var(--line);
    }
  }
  @media ${low} {
    :host {
      padding: 0;
    }
    .sheet {
      border: none;
      grid-template:
        'rail rail settings' auto
        'figure panel panel' minmax(0, 1fr)
        'foot foot foot' auto / minmax(0, 1fr) min(308px, 36vw) 64px;
    }
    .panel {
      padding: var(--gap-3) var(--gap-4) var(--gap-5);
    }
  }
  @media ${phone} {
    :host {
      padding: 0;
    }
    .sheet {
      border: none;
      grid-template:
        'rail settings' auto
        'figure figure' minmax(0, 56fr)
        'panel panel' minmax(0, 44fr)
        'foot foot' auto / minmax(0, 1fr) 52px;
    }
    aside {
      border-left: none;
      border-top: 1px solid var(--line);
    }
    .panel {
      padding: 14px var(--gap-4) var(--gap-5);
    }
  }
  @media ${tiny} {
    :host,
    .sheet {
      height: auto;
    }
    .sheet {
      grid-template-rows: auto 300px auto auto;
    }
    .panel {
      overflow: visible;
    }
    scute-title-block {
      position: sticky;
      bottom: 0;
      z-index: 4;
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
    scute-settings,
    scute-title-block,
    scute-live-region,
    aside,
    scute-figure {
      display: none !important;
    }
    .figure {
      container-type: normal;
      overflow: visible;
    }
    .figure:not(.paper) scute-shop-sheet,
    scute-shop-sheet {
      display: block;
      position: static;
    }
  }
`;
