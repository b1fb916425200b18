import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** A file dropped anywhere on the page is handed on; while one is held over it, `isOver` is true. */
export class FileDrop implements ReactiveController {
  isOver = false;
  /** A drag enters every element that it passes over before it leaves the one before. */
  private depth = 0;

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly onFile: (file: File) => void,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    window.addEventListener('dragenter', this.onEnter);
    window.addEventListener('dragover', this.onDragOver);
    window.addEventListener('dragleave', this.onLeave);
    window.addEventListener('drop', this.onDrop);
  }

  hostDisconnected(): void {
    window.removeEventListener('dragenter', this.onEnter);
    window.removeEventListener('dragover', this.onDragOver);
    window.removeEventListener('dragleave', this.onLeave);
    window.removeEventListener('drop', this.onDrop);
  }

  private readonly onEnter = (event: DragEvent) => {
    if (event.dataTransfer?.types.includes('Files')) this.hold(this.depth + 1);
  };

  private readonly onDragOver = (event: DragEvent) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  };

  private readonly onLeave = () => this.hold(Math.max(0, this.depth - 1));

  private readonly onDrop = (event: DragEvent) => {
    event.preventDefault();
    this.hold(0);
    const file = event.dataTransfer?.files[0];
    if (file) this.onFile(file);
  };

  private hold(depth: number): void {
    this.depth = depth;
    const isOver = depth > 0;
    if (isOver === this.isOver) return;
    this.isOver = isOver;
    this.host.requestUpdate();
  }
}
