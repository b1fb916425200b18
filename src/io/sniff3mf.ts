/** Names of files that a package holds by its conventions (Open Packaging Conventions, ECMA-376 part 2; 3MF core 1.3). */
const PACKAGE_NAMES = ['[Content_Types].xml', '_rels/.rels', '3D/'];

/** The first entry is at the front of an archive, the list of contents at its end. */
const FRONT_BYTES = 512;
const BACK_BYTES = 65536;

/** Whether the bytes are a package as 3MF is one: a zip archive that holds the package's own files. */
export function sniff3mf(bytes: Uint8Array): boolean {
  if (!(bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4)) return false;
  const decoder = new TextDecoder('latin1');
  const seen =
    decoder.decode(bytes.subarray(0, FRONT_BYTES)) +
    decoder.decode(bytes.subarray(Math.max(FRONT_BYTES, bytes.length - BACK_BYTES)));
  return PACKAGE_NAMES.some((name) => seen.includes(name));
}
