import { css } from 'lit';

/** Swatches of the legend: hatchings, lines, dots. */
export const swatchStyles = css`
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
  .stroke line {
    stroke: var(--accent);
    stroke-width: 3;
  }
  .stroke.mark line {
    stroke: var(--ink);
    stroke-width: 2;
  }
`;
