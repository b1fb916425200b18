/**
 * Beginnings of files that people take for a scan, or rename to one. Sources: the formats' own specifications (PNG RFC 2083, GIF89a, JPEG ISO 10918-1, TIFF 6, ZIP APPNOTE 4.3.7, gzip RFC 1952, PDF ISO 32000, RIFF, glTF 2.0, ISO base media), BMP
 * from memory. "?" stands for any byte.
 */
const SIGNATURES: readonly { readonly at: number; readonly bytes: string; readonly name: string }[] = [
  { at: 0, bytes: '\x89PNG\r\n\x1a\n', name: 'a PNG picture' },
  { at: 0, bytes: '\xff\xd8\xff', name: 'a JPEG picture' },
  { at: 0, bytes: 'GIF87a', name: 'a GIF picture' },
  { at: 0, bytes: 'GIF89a', name: 'a GIF picture' },
  { at: 0, bytes: 'II*\0', name: 'a TIFF picture' },
  { at: 0, bytes: 'MM\0*', name: 'a TIFF picture' },
  { at: 0, bytes: '8BPS', name: 'a layered picture' },
  // Its size, then four reserved bytes.
  { at: 0, bytes: 'BM????\0\0\0\0', name: 'a BMP picture' },
  { at: 8, bytes: 'WEBP', name: 'a WebP picture' },
  { at: 4, bytes: 'ftyp', name: 'a film or a phone picture' },
  { at: 0, bytes: '%PDF', name: 'a PDF document' },
  { at: 0, bytes: 'PK\x03\x04', name: 'a zip archive without a 3D model' },
  { at: 0, bytes: 'PK\x05\x06', name: 'an empty zip archive' },
  { at: 0, bytes: '\x1f\x8b', name: 'a gzip archive' },
  { at: 0, bytes: "7z\xbc\xaf'\x1c", name: 'a 7z archive' },
  { at: 0, bytes: 'Rar!', name: 'a RAR archive' },
  { at: 0, bytes: 'Kaydara FBX Binary', name: 'an FBX model' },
];

/** Beginnings of texts, looked for after blank space and in any case. */
const TEXTS: readonly { readonly begins: string; readonly name: string }[] = [
  { begins: '<!doctype html', name: 'a web page (HTML)' },
  { begins: '<html', name: 'a web page (HTML)' },
  { begins: '<svg', name: 'an SVG drawing' },
  { begins: '<?xml', name: 'an XML document' },
  {
    begins: 'version https://git-lfs',
    name: 'a pointer to a file in large-file storage, not the file itself',
  },
  { begins: '{', name: 'a JSON document' },
];

/** Bytes looked at for the beginning of a text. */
const START_BYTES = 256;

/** What the file is, for a message ("a PNG picture"), when its first bytes are those of something that is no mesh. Asked when no reader knows the content. */
export function nameForeignContent(bytes: Uint8Array): string | undefined {
  const signature = SIGNATURES.find(({ at, bytes: wanted }) => {
    for (let i = 0; i < wanted.length; i++) {
      if (wanted[i] !== '?' && bytes[at + i] !== wanted.charCodeAt(i)) return false;
    }
    return true;
  });
  if (signature !== undefined) return signature.name;
  const text = new TextDecoder().decode(bytes.subarray(0, START_BYTES)).trimStart().toLowerCase();
  return TEXTS.find(({ begins }) => text.startsWith(begins))?.name;
}
