import { css } from 'lit';

/** What the parts of the stages Coats and Mix share: groups that open, lines of basis, small rows of fields. */
export const mixStyles = css`
  :host {
    display: block;
  }
  details.group {
    border-bottom: 1px solid var(--line-soft);
  }
  details.group > summary {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 12px;
    min-height: var(--target);
    padding: 8px 0;
    cursor: pointer;
    list-style: none;
  }
  details.group > summary::-webkit-details-marker {
    display: none;
  }
  details.group > summary::after {
    content: '';
    flex: none;
    width: 8px;
    height: 8px;
    border-right: 1.6px solid var(--ink-soft);
    border-bottom: 1.6px solid var(--ink-soft);
    transform: translateY(-2px) rotate(45deg);
  }
  details.group[open] > summary::after {
    transform: translateY(2px) rotate(225deg);
  }
  details.group > summary:hover .title {
    text-decoration: underline;
    text-underline-offset: 4px;
  }
  .title {
    font-weight: bold;
  }
  summary .said {
    flex: 1;
    text-align: right;
    font-size: var(--size-small);
    color: var(--ink-soft);
    min-width: 0;
  }
  .inside {
    padding: 0 0 18px;
  }
  .inside .fields {
    margin-top: 6px;
  }
  .basis {
    margin-top: 12px;
    border-left: 1px solid var(--line-control);
    padding-left: 10px;
    font-size: var(--size-small);
    color: var(--ink-soft);
  }
  .basis li + li {
    margin-top: 4px;
  }
  h4 {
    margin: 18px 0 0;
    font-size: var(--size-body);
  }
  .line {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr) var(--target);
    gap: 8px;
    align-items: end;
    margin-top: 8px;
  }
  .line button {
    padding: 0;
  }
  .problem,
  .note {
    overflow-wrap: anywhere;
  }
`;
