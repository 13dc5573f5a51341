/** Write-ups of invented pages, from Markdown to the copy that a customer gets. */
import { evaluatePage } from '@/lib/notebook/evaluate';
import { writeUp } from '@/lib/notebook/writeup';
import { copyOf } from '@/lib/notebook/writeup/copy';
import type { Letterhead } from '@/lib/notebook/writeup/letterhead';
import type { Terms } from '@/lib/notebook/writeup/parts';
import { draftOf, type Wording, type Wordings } from '@/lib/notebook/writeup/wording';
import { fixtureChart } from '../core/fixture';
import { context, read } from '../notebook/story';
import { terms } from '../notebook/told';

export const letterhead: Letterhead = {
  name: 'Ashgate Shed',
  address: ['2 Cinder Yard', 'Ashgate'],
  logo: null,
  currency: 'GBP',
  rate: 1800,
};
export const priced: Terms = { ...terms, currency: 'GBP', rate: 1800 };

export const record = (more: Record<string, string> = {}) => {
  const keys = { symptom: '"Drops a turn"', remedy: '"New housing"', 'part.T-254-S': '10', minutes: '95', ...more };
  const lines = Object.entries(keys).map(([key, value]) => `${key}: ${value}`);
  return `# Spinner\n\n\`\`\`widget fix-record r\n${lines.join('\n')}\n\`\`\`\n`;
};

export function derive(markdown: string, given: Terms = priced) {
  const content = read(markdown);
  return writeUp(evaluatePage(content, context), content, fixtureChart, given);
}

export const wording = (over: string, words: string | null, price: number | null = null): Wording => ({
  words,
  price,
  over,
  by: 'Ines',
  at: '2026-11-21T10:00:00.000Z',
});

export function written(markdown: string, wordings: Wordings = {}, { prices = false, given = priced } = {}) {
  const up = derive(markdown, given);
  const lines = draftOf(up, wordings, 'GBP');
  const copy = copyOf(lines, { letterhead, machine: up.machine, on: '2026-11-21', priced: prices, proved: false });
  const texts = (id: string) => copy.sections.find((s) => s.id === id)?.lines.map(({ text }) => text);
  const line = (key: string) => lines.find((l) => l.key === key);
  return { up, lines, copy, texts, line };
}
