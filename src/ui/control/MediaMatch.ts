import type { CSSResult, ReactiveController, ReactiveControllerHost } from 'lit';

/** Whether a media query holds; its element renders anew when that changes. For what styles alone cannot do. */
export class MediaMatch implements ReactiveController {
  private readonly list: MediaQueryList;

  constructor(
    private readonly host: ReactiveControllerHost,
    query: CSSResult | string,
  ) {
    this.list = matchMedia(typeof query === 'string' ? query : query.cssText);
    host.addController(this);
  }

  get matches(): boolean {
    return this.list.matches;
  }

  hostConnected(): void {
    this.list.addEventListener('change', this.onChange);
  }

  hostDisconnected(): void {
    this.list.removeEventListener('change', this.onChange);
  }

  private readonly onChange = () => this.host.requestUpdate();
}
