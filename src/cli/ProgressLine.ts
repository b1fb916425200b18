/** Longest line that is drawn; shorter than the narrowest usual terminal, since a wrapped line cannot be drawn over. */
const LINE_WIDTH = 70;

/** One line on standard error that is drawn over as the work goes on; silent where nobody looks or when told to be. */
export class ProgressLine {
  private shown = '';

  constructor(
    private readonly stream: { write(text: string): unknown; readonly isTTY?: boolean },
    isQuiet: boolean,
  ) {
    this.isOn = !isQuiet && stream.isTTY === true;
  }

  private readonly isOn: boolean;

  readonly show = (fraction: number, phase: string): void => {
    if (!this.isOn) return;
    const line = `${String(Math.floor(fraction * 100)).padStart(3)} %  ${phase}`.slice(0, LINE_WIDTH);
    if (line === this.shown) return;
    this.stream.write(`\r${line.padEnd(this.shown.length)}`);
    this.shown = line;
  };

  /** Wipes the line, so that what follows starts on a clean one. */
  clear(): void {
    if (this.shown === '') return;
    this.stream.write(`\r${' '.repeat(this.shown.length)}\r`);
    this.shown = '';
  }
}
