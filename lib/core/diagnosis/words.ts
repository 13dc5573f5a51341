/** "44, 45 and 46" */
export const listed = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** As a sentence goes on with it; names such as A3P4 keep their capital. */
export const lower = (text: string): string => (/^[A-Z]\d/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1));

export const percent = (share: number): string => `${Math.round(share * 100)} %`;
