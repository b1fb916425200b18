/** Words one after the other as they are spoken: "rubber", "rubber and board", "rubber, board and shims"; '' of none. */
export function listWords(words: readonly string[]): string {
  return words.length < 2
    ? words.join('')
    : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}
