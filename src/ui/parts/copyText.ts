/**
 * Puts the text where it can be pasted from. Where the browser gives no access to its clipboard, by the older way of
 * selecting it. Resolves to false when neither worked.
 */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return copySelected(text);
  }
}

function copySelected(text: string): boolean {
  const field = document.createElement('textarea');
  field.value = text;
  field.readOnly = true;
  // Out of sight, but not hidden: what is hidden can't be selected.
  field.style.position = 'fixed';
  field.style.insetInlineStart = '-200vw';
  document.body.append(field);
  const before = document.activeElement;
  field.select();
  try {
    return document.execCommand('copy');
  } catch {
    return false;
  } finally {
    field.remove();
    if (before instanceof HTMLElement) before.focus();
  }
}
