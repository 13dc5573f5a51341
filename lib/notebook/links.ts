/** Which addresses a link may have. Documents come from untrusted peers, so editor, readers and renderers all ask here. */

const schemes = new Set(['http', 'https', 'mailto', 'tel']);
// Browsers skip white space and control characters inside a scheme (`java\nscript:`), so an address may hold none at all.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
const unsafe = /[\u0000-\u0020\u007f-\u00a0\u1680\u180e\u2000-\u200f\u2028-\u202f\u205f\u2060\u3000\ufeff\\]/;

/** True for http, https, mailto, tel and relative addresses without white space or backslashes. */
export function isAllowedUrl(url: unknown): url is string {
  if (typeof url !== 'string' || url === '' || url.length > 2000 || unsafe.test(url)) return false;
  const scheme = /^([^/?#:]*):/.exec(url);
  return scheme === null || schemes.has((scheme[1] ?? '').toLowerCase());
}
