import { css } from 'lit';

/** Sizes for an eye one to two metres away and targets for a thumb in a wet glove; the sheet's own are for arm's length. */
export const benchStyles = css`
  :host {
    display: block;
    --bench-note: clamp(1.125rem, 2.6vw, 1.5rem);
    --bench-text: clamp(1.5rem, 3.6vw, 2rem);
    --bench-title: clamp(2rem, 5vw, 3rem);
    --bench-large: clamp(2rem, 6vw, 3.5rem);
    --bench-huge: clamp(3.5rem, 11.5vw, 6rem);
    --bench-target: 88px;
    font-size: var(--bench-text);
    line-height: 1.2;
  }
  .note-text {
    font-size: var(--bench-note);
  }
  button {
    font-size: var(--bench-note);
  }
  .plain {
    border: none;
    background: none;
    padding: 0;
    margin: 0;
    color: inherit;
  }
`;
