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
  .head {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 12px;
    padding: 10px 12px 0 22px;
  }
  figcaption {
    color: var(--ink-soft);
  }
  figcaption b {
    color: var(--ink);
    font-weight: normal;
    margin-right: 0.6em;
  }
  .head .tools {
    display: flex;
    gap: 2px;
    flex: none;
  }
  .stage {
    position: relative;
    flex: 1;
    min-height: 260px;
    overflow: hidden;
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
  .stage[data-mode='clear'] .host {
    cursor: crosshair;
  }
  .overlay {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    pointer-events: none;
  }
  .overlay text {
    fill: var(--ink);
    font-size: 15px;
    paint-order: stroke;
    stroke: var(--paper);
    stroke-width: 4px;
    stroke-linejoin: round;
  }
  .overlay .bound {
    fill: var(--ink-soft);
    font-size: 13.5px;
  }
  .overlay text.level {
    font-size: 12.5px;
    text-anchor: middle;
    stroke-width: 3px;
  }
  .hatch {
    flex: none;
    border: 1px solid var(--line);
    background: var(--piece-4);
  }
  .hatch.open {
    border-color: transparent;
    background: none;
  }
  .hatch path {
    fill: none;
    stroke: light-dark(var(--ink), var(--paper));
    stroke-width: 1.1;
  }
  .hatch path.depth {
    stroke: var(--ink);
    stroke-width: 1.6;
  }
  .hatch path.give {
    stroke: var(--accent);
    stroke-width: 2;
  }
  .hatch .kind-3 {
    stroke-dasharray: 5.5 3.5;
  }
  .hatch .touching {
    stroke: var(--accent);
  }
  .hatch.filler {
    background: var(--rubber);
  }
  .hatch circle {
    fill: light-dark(var(--ink), var(--paper));
  }
  .touch {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 26px;
    padding: 4px 20px 2px 22px;
    font-size: var(--size-small);
  }
  .touch li {
    border-left: 3px solid var(--line-soft);
    padding-left: 8px;
  }
  .touch li.inside {
    color: var(--accent);
    border-left-color: var(--accent);
  }
  .overlay.stale .note {
    fill: var(--ink-soft);
  }
  .overlay .left {
    text-anchor: end;
  }
  .overlay .dimension,
  .overlay .pulls {
    text-anchor: middle;
  }
  .overlay .bar {
    font-size: 13.5px;
    fill: var(--ink-soft);
  }
  .thin {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1;
  }
  .pull {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2;
  }
  .tip {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.3;
  }
  circle.clear {
    fill: color-mix(in srgb, var(--paper) 35%, transparent);
    stroke: var(--ink);
    stroke-width: 1.5;
    stroke-dasharray: 6 4;
  }
  .overlay text.clear {
    text-anchor: middle;
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
  .sketch path,
  .sketch ellipse {
    fill: none;
    stroke: var(--line-control);
    stroke-width: 1.2;
  }
  .sketch .dashed {
    stroke-dasharray: 6 5;
  }
  .spot {
    fill: var(--ink);
    stroke: var(--paper);
    stroke-width: 1;
  }
  .zoom {
    position: absolute;
    right: 10px;
    top: 8px;
    display: grid;
    gap: 4px;
  }
  .zoom button {
    padding: 0;
  }
  .key {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 8px 22px;
    /* Two rows of the legend: the mould must not jump when one more thing is explained. */
    min-height: 54px;
    padding: 2px 20px 4px;
    font-size: var(--size-small);
  }
  .key .check {
    flex: none;
    gap: 8px;
  }
  .legend {
    display: flex;
    flex-wrap: wrap;
    justify-content: flex-end;
    gap: 2px 16px;
    margin-left: auto;
  }
  .legend li {
    display: flex;
    align-items: center;
    gap: 6px;
  }
  .stroke line {
    stroke: var(--accent);
    stroke-width: 3;
  }
  .stroke.mark line {
    stroke: var(--ink);
    stroke-width: 2;
  }
  .empty,
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
  }
  .empty.soft,
  .trouble {
    pointer-events: none;
  }
  .foot {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 4px 18px;
    padding: 6px 14px 10px 18px;
    border-top: 1px solid var(--line-soft);
  }
  .views {
    display: flex;
    border: 1px solid var(--line-control);
    border-radius: 2px;
  }
  .views button {
    border: none;
    border-radius: 0;
    padding: 4px 10px;
    min-height: 42px;
  }
  .views button + button {
    border-left: 1px solid var(--line-soft);
  }
  kbd {
    font: inherit;
    font-size: 0.75rem;
    color: var(--ink-soft);
    margin-left: 6px;
  }
  .slide {
    display: flex;
    align-items: center;
    gap: 10px;
    flex: 1 1 150px;
    max-width: 260px;
  }
  .cut {
    display: flex;
    align-items: center;
    gap: 14px;
    flex: 1 1 100%;
    flex-wrap: wrap;
  }
  .cut input {
    flex: 1 1 160px;
  }
  .cut output {
    min-width: 150px;
  }
  @media (max-width: 1279px) {
    kbd {
      display: none;
    }
    .foot {
      gap: 4px 14px;
    }
  }
  @media (max-width: 599px) {
    .head {
      padding-left: 14px;
    }
    .views {
      width: 100%;
    }
    .views button {
      flex: 1;
      padding: 4px 2px;
    }
    .foot {
      padding: 6px 10px;
    }
  }
`;
