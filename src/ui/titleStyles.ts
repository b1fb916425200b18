import { css } from 'lit';
import { flat, low, narrow, phone, strip, upright } from './widths.ts';

/** The title block along the foot, in its three forms: one row, two lines, a strip of three numbers. */
export const titleStyles = css`
  :host {
    display: block;
    position: relative;
    background: var(--paper);
  }
  .visually-hidden {
    left: 0;
    top: 0;
  }
  .cells {
    display: grid;
    grid-template-columns: minmax(130px, 1.2fr) repeat(6, minmax(106px, 1fr)) minmax(250px, 1.9fr);
    min-height: 112px;
  }
  .cell {
    padding: var(--gap-2) var(--gap-3);
    border-right: 1px solid var(--line);
    min-width: 0;
  }
  .cell:last-child {
    border-right: none;
  }
  .label {
    color: var(--ink-soft);
    font-size: var(--size-small);
  }
  .value {
    font-size: var(--size-heading);
    font-weight: bold;
    line-height: 1.2;
    white-space: nowrap;
  }
  .value.long {
    font-size: var(--size-body);
    line-height: 1.55;
  }
  .job .value {
    font-size: var(--size-body);
    white-space: normal;
    overflow-wrap: anywhere;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 3;
    overflow: hidden;
  }
  .under {
    font-size: var(--size-small);
    line-height: 1.25;
    color: var(--ink-soft);
    overflow-wrap: anywhere;
  }
  .change {
    color: var(--accent);
    font-weight: bold;
    white-space: nowrap;
    margin-right: 0.5em;
  }
  .stale .value,
  .stale .change,
  .rough .value {
    color: var(--ink-soft);
    font-weight: normal;
  }
  .status {
    display: grid;
    align-content: start;
    gap: 2px;
  }
  .status .value {
    font-size: var(--size-body);
  }
  .status .label .jobname {
    display: none;
  }
  .failed {
    display: flex;
    align-items: center;
    gap: var(--gap-2);
  }
  .failed .text {
    flex: 1;
    min-width: 0;
    font-size: var(--size-small);
    line-height: 1.25;
    max-height: 5em;
    overflow-y: auto;
  }
  .failed button {
    flex: none;
  }
  scute-next-timer {
    min-width: 0;
  }
  @media ${narrow} {
    .cells {
      min-height: 0;
    }
    .cell {
      padding: 6px var(--gap-2);
    }
    .value {
      font-size: 1.25rem;
    }
  }
  @media ${flat} {
    .cells {
      /* A sum of money is longer than a count of days. */
      grid-template-columns: repeat(3, minmax(0, 1fr)) minmax(0, 0.9fr) minmax(0, 1fr) minmax(0, 1.2fr) minmax(210px, 2.1fr);
    }
    .job,
    .status .label .word {
      display: none;
    }
    .status .label .jobname {
      display: inline;
    }
  }
  /* Low: what changed is kept, what only explains is left out. */
  @media ${flat} and (max-height: 699px) {
    .cell:not(.status) .besides {
      display: none;
    }
  }
  @media ${upright} {
    .cells {
      grid-template-columns: repeat(3, minmax(0, 1fr)) minmax(0, 0.9fr) minmax(0, 1fr) minmax(0, 1.15fr);
    }
    .job,
    .status {
      grid-column: span 3;
      order: -1;
      border-bottom: 1px solid var(--line-soft);
    }
    .job .value {
      -webkit-line-clamp: 2;
    }
    .status,
    .cell:nth-last-child(2) {
      border-right: none;
    }
  }
  @media ${upright} and (max-width: 699px) {
    .value {
      font-size: var(--size-body);
    }
  }
  .strip {
    display: grid;
    grid-template-columns: repeat(3, minmax(0, 1fr)) auto;
    align-items: stretch;
  }
  .strip .cell {
    padding: 5px var(--gap-2) 6px;
  }
  .strip .value {
    font-size: 1.125rem;
    line-height: 1.25;
  }
  /* "57.50 EUR" in a third of a telephone's width. */
  .strip .value.long {
    font-size: 1rem;
    line-height: 1.4;
    white-space: normal;
  }
  .strip .change {
    font-size: var(--size-small);
    margin: 0;
  }
  .strip .label {
    line-height: 1.2;
    white-space: nowrap;
  }
  .opener {
    display: grid;
    justify-items: center;
    align-content: center;
    border: none;
    border-radius: 0;
    background: none;
    padding: 4px 10px;
    min-width: 84px;
    font-size: var(--size-small);
    line-height: 1.2;
  }
  .opener:focus-visible {
    outline-offset: -3px;
  }
  .opener[aria-expanded='false'] svg {
    transform: rotate(180deg);
  }
  .hair {
    position: absolute;
    left: 0;
    top: -2px;
    height: 4px;
    background: var(--accent);
    pointer-events: none;
  }
  /* What lies over the panel: the rest of the numbers while they are asked for, a job while it goes on. */
  .over {
    position: absolute;
    left: 0;
    right: 0;
    bottom: 100%;
    z-index: 3;
    background: var(--paper);
    border-top: var(--heavy) solid var(--line);
    border-bottom: 1px solid var(--line);
    max-height: 60dvh;
    overflow-y: auto;
  }
  .over scute-progress:not([long]) {
    display: none;
  }
  .over.job-row {
    padding: var(--gap-2) var(--gap-3);
  }
  .over.job-row:not(:has([long])) {
    display: none;
  }
  @media ${strip} {
    .over .cells {
      grid-template-columns: repeat(2, minmax(0, 1fr));
    }
    .over .cell {
      border-bottom: 1px solid var(--line-soft);
    }
    .over .cell:nth-child(even) {
      border-right: none;
    }
  }
  @media ${low} {
    /* Over the panel alone: the figure is never covered to say that something is being worked out. */
    .over.job-row {
      left: auto;
      width: calc(min(308px, 36vw) + 64px);
      border-left: 1px solid var(--line);
    }
    .over .cells {
      grid-template-columns: repeat(4, minmax(0, 1fr));
    }
    .over .cell:nth-child(even) {
      border-right: 1px solid var(--line);
    }
    .over .cell:nth-child(4n) {
      border-right: none;
    }
    .strip {
      grid-template-columns: repeat(3, minmax(0, 1fr)) minmax(0, 1.2fr);
    }
  }
  @media ${phone} {
    .strip .cell:nth-child(3) {
      border-right: 1px solid var(--line);
    }
  }
`;
