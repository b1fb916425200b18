const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A text as it may stand in HTML, between tags or within a quoted attribute; characters that HTML does not allow at all are left out. */
export function escapeHtml(text: string): string {
  return text.replace(/[^\P{Cc}\t\n\r]/gu, '').replace(/[&<>"']/g, (c) => ENTITIES[c]);
}
