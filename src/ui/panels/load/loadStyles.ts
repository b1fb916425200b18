import { css } from 'lit';

/** What the two panels of the load share: choices above, figures below. */
export const loadStyles = css`
  select {
    margin-top: 0;
  }
  .basis {
    font-size: var(--size-small);
    color: var(--ink-soft);
    border-left: 1px solid var(--line-control);
    padding-left: 10px;
    margin-top: 6px;
  }
  .facts {
    margin-top: 14px;
  }
  .facts .under {
    font-weight: normal;
  }
  .facts dt {
    flex: none;
    max-width: 55%;
  }
  h4 {
    margin: 18px 0 4px;
    font-size: var(--size-body);
  }
  .stale {
    color: var(--ink-soft);
  }
  .says li {
    font-size: var(--size-small);
    color: var(--ink-soft);
    padding: 5px 0;
  }
`;
