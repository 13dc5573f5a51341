import { type Telling, tell } from '../telling';

const lineWords = (value: unknown): string => {
  if (typeof value !== 'object' || value === null) return String(value);
  const { quantity, name } = value as { quantity?: unknown; name?: unknown };
  return `${String(quantity ?? 1)} × ${String(name ?? '')}`;
};

export const partsTally: Telling = {
  families: {
    line: () => (before, after) => {
      if (before === undefined) return tell(`Line added: ${lineWords(after)}`);
      return tell(
        after === undefined ? `Line taken off: ${lineWords(before)}` : `Line changed from ${lineWords(before)} to ${lineWords(after)}`,
      );
    },
  },
};
