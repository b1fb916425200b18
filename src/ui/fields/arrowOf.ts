/** 1 for the arrow up, -1 for the arrow down, 0 for any other key. */
export function arrowOf({ key }: Pick<KeyboardEvent, 'key'>): 1 | -1 | 0 {
  return key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0;
}
