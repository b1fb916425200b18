/** Elements that have no end tag: HTML Living Standard, 13.1.2, "Void elements", those that a sheet may hold. */
const VOID = new Set(['meta', 'br', 'img']);

/** What an HTML text holds, read strictly: tags nest, attributes are quoted, nothing is left open. Throws an Error where not. */
export function readHtml(html: string): { readonly tags: readonly string[]; readonly text: string } {
  const open: string[] = [];
  const tags: string[] = [];
  let text = '';
  let at = 0;
  while (at < html.length) {
    if (html[at] !== '<') {
      const next = html.indexOf('<', at);
      const end = next < 0 ? html.length : next;
      text += html.slice(at, end);
      at = end;
      continue;
    }
    const doctype = /^<!doctype html>/i.exec(html.slice(at, at + 20));
    const endTag = /^<\/([a-z0-9-]+)>/i.exec(html.slice(at, at + 60));
    if (doctype) {
      at += doctype[0].length;
    } else if (endTag) {
      const last = open.pop();
      if (last !== endTag[1]) throw new Error(`</${endTag[1]}> closes <${last}> at ${at}.`);
      at += endTag[0].length;
    } else {
      const pattern = /<([a-z][a-z0-9-]*)((?:\s+[a-zA-Z][a-zA-Z0-9-]*(?:="[^"<]*")?)*)\s*(\/?)>/y;
      pattern.lastIndex = at;
      const start = pattern.exec(html);
      if (!start) throw new Error(`No tag can be read at ${at}: ${html.slice(at, at + 60)}`);
      const [whole, name, , slash] = start;
      tags.push(name);
      if (slash === '' && !VOID.has(name)) open.push(name);
      at += whole.length;
      // Its content is no HTML.
      if (name === 'style') at = html.indexOf('</style>', at);
    }
  }
  if (open.length > 0) throw new Error(`<${open.join('> <')}> stay open.`);
  const plain = text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');
  return { tags, text: plain };
}
