import { LitElement } from 'lit';

/**
 * An element with much in it: drawn for the first time in a task of its own, so that a panel made of several of them never
 * holds the page at a stretch. Afterwards like any other.
 */
export class LateElement extends LitElement {
  protected override async scheduleUpdate(): Promise<void> {
    if (!this.hasUpdated) await new Promise((resolve) => setTimeout(resolve));
    super.scheduleUpdate();
  }
}
