/** Puts boxes that have more than they show within reach of the keyboard, so that arrow keys scroll them; others are no stop. */
export function letScroll(boxes: Iterable<HTMLElement>): void {
  for (const box of boxes) {
    if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
    else box.removeAttribute('tabindex');
  }
}
