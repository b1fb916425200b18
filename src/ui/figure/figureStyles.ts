import { css } from 'lit';

/** The figure: caption above, the mould in the middle, the ways to look at it below. */
export const figureStyles = css`
  :host {
    display: block;
    min-width: 0;
    min-height: 0;
  }
  figure {
    display: flex;
    flex-direction: column;
    height: 100%;
  }
  .stage {
    position: relative;
    flex: 1;
    min-height: 0;
    overflow: hidden;
  }
  /* Where the caption lies over the picture, the mould stands beneath its words. */
  @container (max-height: 400px) {
    .stage {
      margin-top: 26px;
    }
  }
  .host {
    position: absolute;
    inset: 0;
    touch-action: none;
  }
  .host:focus-visible {
    outline-offset: -4px;
  }
  .stage[data-mode='draw'] .host,
  .stage[data-mode='edit'] .host,
  .stage[data-mode='measure'] .host,
  .stage[data-mode='avoid'] .host {
    cursor: crosshair;
  }
  .cross,
  .keys {
    display: none;
    position: absolute;
    pointer-events: none;
  }
  .cross {
    left: calc(50% - 20px);
    top: calc(50% - 20px);
  }
  .cross path {
    stroke: var(--ink);
    stroke-width: 2;
  }
  .keys {
    left: 22px;
    top: 6px;
    color: var(--ink-soft);
  }
  .host:focus-visible ~ .cross,
  .host:focus-visible ~ .keys {
    display: block;
  }
  .trouble {
    position: absolute;
    inset: 0;
    display: grid;
    place-content: center;
    justify-items: center;
    gap: 14px;
    text-align: center;
    padding: 24px;
    max-width: 34em;
    margin: 0 auto;
    pointer-events: none;
  }
`;
