/** Figures with their units as charts print them. */

/** `36 V`, `4,7 Ω`, `24 AWG`, `.156"`: the figure, in mm where inches are marked; null when there is none. */
export function readFigure(text: string): number | null {
  const found = /(\d*[.,]?\d+)\s*(k|m)?\s*(["”]|in(?:ch)?\b)?/i.exec(text.replace(/\s/g, ' '));
  if (!found?.[1]) return null;
  const value = Number(found[1].replace(',', '.'));
  if (!Number.isFinite(value)) return null;
  if (found[3]) return value * 25.4;
  return /k\s*Ω|k\s*ohm/i.test(text) ? value * 1000 : /\dm\s*a\b|\d\s+ma\b/i.test(text) ? value / 1000 : value;
}

const pitches = [2, 2.5, 2.54, 3.96, 5.08] as const;

/** The pitch of a header in mm: `2.54`, `0.1"`, `.156 in`; one of the usual ones, to 0.02 mm. */
export function readPitch(text: string): (typeof pitches)[number] | null {
  const value = readFigure(text);
  if (value === null) return null;
  const mm = value < 1 ? value * 25.4 : value;
  return pitches.find((pitch) => Math.abs(pitch - mm) <= 0.02) ?? null;
}

/** Positions such as `3`, `3, 7`, `2 and 5`; none for `none` and a dash; null when it is something else. */
export function readPositions(text: string): number[] | null {
  if (/^(?:none|no key|no|-|–|—)$/i.test(text.trim())) return [];
  const parts = text.split(/\s*(?:[,;/+]|\band\b|\s)\s*/i).filter(Boolean);
  return parts.length > 0 && parts.every((part) => /^\d{1,2}$/.test(part)) ? parts.map(Number) : null;
}

/** Alternating or direct: `6.3 V a.c.`. */
export const readNature = (text: string): 'ac' | 'dc' | null =>
  /\ba\.?\s?c\b|~/i.test(text) ? 'ac' : /\bd\.?\s?c\b|⎓/i.test(text) ? 'dc' : null;
