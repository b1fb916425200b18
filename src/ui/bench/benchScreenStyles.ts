import { css } from 'lit';

/** The bench's one page: head, the step, and the foot with what a thumb presses, which never moves. */
export const benchScreenStyles = css`
  :host {
    position: fixed;
    inset: 0;
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
    background: var(--paper);
    color: var(--ink);
  }
  header {
    display: grid;
    grid-template-columns: auto 1fr auto;
    align-items: center;
    gap: 4px 24px;
    padding: 10px 24px 8px;
    border-bottom: var(--heavy) solid var(--line);
  }
  .place b {
    font-size: var(--bench-title);
    line-height: 1;
  }
  .now {
    text-align: right;
  }
  .switches {
    display: flex;
    gap: 12px;
  }
  .switches button {
    min-height: 56px;
  }
  header progress {
    appearance: none;
    grid-column: 1 / -1;
    width: 100%;
    height: 8px;
    border: 1px solid var(--line-control);
    background: none;
  }
  header progress::-webkit-progress-bar {
    background: none;
  }
  header progress::-webkit-progress-value {
    background: var(--ink);
  }
  header progress::-moz-progress-bar {
    background: var(--ink);
  }
  .wake {
    grid-column: 1 / -1;
    font-size: var(--size-body);
  }
  main {
    position: relative;
    overflow-y: auto;
    padding: 12px 24px 24px;
  }
  .undo {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 16px;
    border-bottom: 1px solid var(--line);
    padding-bottom: 8px;
    font-size: var(--bench-note);
  }
  .undo button {
    min-height: 64px;
    min-width: 120px;
  }
  .body {
    display: grid;
    gap: 12px 40px;
    padding-top: 14px;
  }
  .piece {
    display: flex;
    align-items: center;
    gap: 14px;
  }
  .piece .swatch {
    width: 0.9em;
    height: 0.9em;
  }
  h1 {
    font-size: var(--bench-title);
    line-height: 1.08;
    margin-top: 4px;
    overflow-wrap: anywhere;
  }
  h1.alone {
    font-size: var(--bench-large);
  }
  h1:focus {
    outline: none;
  }
  .when {
    margin: 6px 0 12px;
  }
  .done-mark {
    color: var(--ink-soft);
    margin: 6px 0 12px;
  }
  .after {
    margin-top: 14px;
  }
  button.second {
    min-height: 64px;
  }
  .work scute-wait-clock {
    margin: 10px 0 14px;
  }
  scute-batch-form {
    margin-top: 14px;
    max-width: 640px;
  }
  aside {
    font-size: var(--bench-note);
  }
  .replan li {
    border-left: 8px solid var(--line-control);
    padding: 2px 0 2px 14px;
    margin-bottom: 10px;
  }
  .cautions {
    border-top: 1px solid var(--line);
  }
  .cautions li {
    padding: 10px 0;
    border-bottom: 1px solid var(--line-soft);
    line-height: 1.25;
  }
  .cautions span {
    font-size: var(--size-heading);
    color: var(--ink-soft);
  }
  footer {
    border-top: var(--heavy) solid var(--line);
    padding: 8px 24px 16px;
  }
  .then,
  .due {
    font-size: var(--bench-note);
    min-height: 1.3em;
    padding: 4px 0 8px;
  }
  .due {
    width: 100%;
    min-height: 56px;
    text-align: left;
    padding: 6px 14px;
    margin-bottom: 8px;
  }
  nav {
    display: grid;
    grid-template-columns: minmax(88px, 150px) minmax(0, 1fr) minmax(88px, 150px);
    gap: 12px;
  }
  nav button {
    min-height: var(--bench-target);
    padding: 6px 8px;
  }
  nav .do {
    min-height: 104px;
    font-size: var(--bench-text);
    font-weight: bold;
  }
  /* A finger leaves its hover behind: what is to be done next keeps its colour. */
  nav .do.primary:hover:not(:disabled) {
    background: var(--accent);
    border-color: var(--ink);
    color: var(--on-accent);
  }
  @media (min-width: 1000px) {
    .body:has(aside) {
      grid-template-columns: minmax(0, 3fr) minmax(0, 2fr);
    }
  }
  /* Low screens: the head gives its place to the work. */
  @media (max-height: 800px) {
    header {
      padding-top: 4px;
      padding-bottom: 4px;
    }
    nav .do {
      min-height: 88px;
    }
  }
  @media (max-width: 599px) {
    header {
      grid-template-columns: 1fr auto;
      padding: 8px 14px;
    }
    .switches {
      grid-column: 1 / -1;
      justify-content: space-between;
    }
    main {
      padding: 8px 14px 20px;
    }
    footer {
      padding: 6px 10px 10px;
    }
    nav {
      grid-template-columns: 88px minmax(0, 1fr) 88px;
      gap: 8px;
    }
  }
`;
