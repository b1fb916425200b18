import { css } from 'lit';

/** The sheet's border and the places of its regions at every width. */
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
`;
