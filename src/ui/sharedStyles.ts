import { css } from 'lit';

/** What every element of the page has in common: type, controls of at least 44 px, tables, focus. */
export const sharedStyles = css`
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  :host {
    font-variant-numeric: tabular-nums lining-nums;
  }
  :host([hidden]),
  [hidden] {
    display: none !important;
  }
  h1,
  h2,
  h3,
  p,
  ul,
  ol,
  dl,
  dd,
  figure {
    margin: 0;
    padding: 0;
  }
  ul,
  ol {
    list-style: none;
  }
  h2 {
    font-size: var(--size-heading);
    line-height: 1.2;
  }
  h3 {
    font-size: var(--size-body);
    margin-top: 26px;
    margin-bottom: 6px;
  }
  .soft {
    color: var(--ink-soft);
  }
  .small {
    font-size: var(--size-small);
  }
  .accent {
    color: var(--accent);
  }
  button,
  .button {
    font: inherit;
    color: var(--ink);
    background: var(--paper-raised);
    border: 1px solid var(--line-control);
    border-radius: 2px;
    min-height: var(--target);
    min-width: var(--target);
    padding: 6px 14px;
    cursor: pointer;
  }
  button:hover:not(:disabled) {
    border-color: var(--ink);
    background: var(--paper-sunk);
  }
  button:disabled {
    color: var(--ink-soft);
    border-color: var(--line-soft);
    background: none;
    cursor: default;
  }
  button.primary:not(:disabled) {
    background: var(--accent);
    border-color: var(--accent);
    color: var(--on-accent);
  }
  button.primary:hover:not(:disabled) {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--paper);
  }
  button.quiet {
    border-color: transparent;
    background: none;
    padding: 6px 10px;
  }
  button.quiet:hover:not(:disabled) {
    background: var(--paper-sunk);
  }
  button[aria-pressed='true'],
  button[aria-pressed='true']:hover:not(:disabled) {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--paper);
  }
  button svg {
    display: block;
    margin: 0 auto;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 8px;
    align-items: center;
  }
  .actions {
    margin-top: 18px;
  }
  input,
  select {
    font: inherit;
    font-variant-numeric: inherit;
    color: var(--ink);
    background: var(--paper-raised);
    border: 1px solid var(--line-control);
    border-radius: 2px;
    min-height: var(--target);
    padding: 6px 10px;
    width: 100%;
    min-width: 0;
    text-overflow: ellipsis;
  }
  input[type='range'] {
    padding: 0;
    background: none;
    border: none;
    accent-color: var(--accent);
    cursor: pointer;
  }
  input[type='checkbox'] {
    width: 22px;
    height: 22px;
    min-height: 0;
    flex: none;
    accent-color: var(--accent);
  }
  label.check {
    display: flex;
    align-items: center;
    gap: 10px;
    min-height: var(--target);
    cursor: pointer;
  }
  :focus-visible {
    outline: 3px solid var(--accent);
    outline-offset: 2px;
  }
  table {
    border-collapse: collapse;
    width: 100%;
  }
  th,
  td {
    text-align: right;
    vertical-align: baseline;
    padding: 9px 0 9px 6px;
    border-bottom: 1px solid var(--line-soft);
    font-weight: normal;
  }
  th:first-child,
  td:first-child {
    text-align: left;
    padding-left: 0;
  }
  td {
    white-space: nowrap;
  }
  thead th {
    color: var(--ink-soft);
    font-size: var(--size-small);
    border-bottom: 1px solid var(--line);
    padding-bottom: 6px;
    vertical-align: bottom;
  }
  tfoot th,
  tfoot td,
  tr.total th,
  tr.total td {
    font-weight: bold;
    border-bottom: none;
    border-top: 1px solid var(--line);
  }
  td .bound {
    display: block;
    color: var(--ink-soft);
    font-size: var(--size-small);
    font-weight: normal;
    white-space: nowrap;
  }
  @container (max-width: 379px) {
    td,
    tbody th,
    tfoot th {
      font-size: var(--size-small);
    }
    td:not(:first-child),
    th:not(:first-child) {
      padding-left: var(--gap-1);
    }
  }
  .facts > div {
    display: flex;
    justify-content: space-between;
    align-items: baseline;
    gap: 12px;
    padding: 8px 0;
    border-bottom: 1px solid var(--line-soft);
  }
  .facts dd {
    text-align: right;
    font-weight: bold;
  }
  .swatch {
    display: inline-block;
    width: 15px;
    height: 15px;
    flex: none;
    border: 1px solid var(--line);
    vertical-align: -2px;
  }
  .piece-0 {
    background: var(--piece-0);
  }
  .piece-1 {
    background: var(--piece-1);
  }
  .piece-2 {
    background: var(--piece-2);
  }
  .piece-3 {
    background: var(--piece-3);
  }
  .piece-4 {
    background: var(--piece-4);
  }
  .piece-5 {
    background: var(--piece-5);
  }
  .coat-0 {
    background: var(--coat-0);
  }
  .coat-1 {
    background: var(--coat-1);
  }
  .coat-2 {
    background: var(--coat-2);
  }
  .coat-3 {
    background: var(--coat-3);
  }
  .coat-4 {
    background: var(--coat-4);
  }
  .coat-5 {
    background: var(--coat-5);
  }
  .rubber {
    background: repeating-linear-gradient(45deg, var(--rubber) 0 2px, var(--paper-raised) 2px 4px);
  }
  .rubber.whole {
    background: var(--rubber);
  }
  .visually-hidden {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  progress {
    display: block;
    appearance: none;
    width: 100%;
    height: 8px;
    border: 1px solid var(--line);
    background: none;
  }
  progress::-webkit-progress-bar {
    background: none;
  }
  progress::-webkit-progress-value {
    background: var(--accent);
  }
  progress::-moz-progress-bar {
    background: var(--accent);
  }
  .note {
    border-left: 3px solid var(--line-control);
    padding: 4px 0 4px 12px;
    margin-top: 12px;
    color: var(--ink-soft);
  }
  .problem {
    border-left: 3px solid var(--accent);
    padding: 4px 0 4px 12px;
    margin-top: 12px;
  }
`;
