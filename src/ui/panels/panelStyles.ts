import { css } from 'lit';

/** A stage's panel: heading, one line of what to do, then fields. */
export const panelStyles = css`
  :host {
    display: block;
  }
  .lead {
    color: var(--ink-soft);
    margin-top: 6px;
    margin-bottom: 14px;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(2, minmax(0, 1fr));
    gap: 14px;
    margin-top: 14px;
    align-items: start;
  }
  .fields > .wide {
    grid-column: 1 / -1;
  }
  .stack {
    display: grid;
    gap: 14px;
    margin-top: 14px;
  }
  .notes li {
    padding: 8px 0;
    border-bottom: 1px solid var(--line-soft);
  }
  .after {
    margin-top: 10px;
  }
  .scroll {
    overflow-x: auto;
  }
  .name {
    display: flex;
    align-items: center;
    gap: 8px;
  }
`;
