import { css } from 'lit';

/** The shape of a labelled field: label above, value below, then the hint or the problem. */
export const fieldStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  label,
  legend {
    display: block;
    font-size: var(--size-small);
    color: var(--ink-soft);
    padding: 0;
    margin-bottom: 4px;
  }
  input[aria-invalid='true'] {
    border-color: var(--accent);
    border-width: 2px;
  }
  input::placeholder {
    color: var(--ink-soft);
    opacity: 1;
  }
  .under {
    font-size: var(--size-small);
    color: var(--ink-soft);
    margin-top: 4px;
  }
  .wrong {
    color: var(--accent);
  }
`;
