/** Text that was read with the wrong encoding on its way here, put right where that is certain. */
import type { TableFinding } from './types';

export interface Repaired {
  text: string;
  findings: TableFinding[];
}

const whole = (level: TableFinding['level'], rule: string, message: string, mend: string): TableFinding => ({
  level,
  rule,
  row: 0,
  column: 0,
  message,
  mend,
});

/** Bytes shown as letters (Latin-1) become the text they are; marks in front go; NUL goes. */
export function repairText(source: string): Repaired {
  const findings: TableFinding[] = [];
  let text = source;
  const wide = wideOrder(text);
  if (wide) {
    text = pairsOf(text, wide);
    findings.push(
      whole(
        'information',
        'encoding',
        'The text was UTF-16 read byte by byte; it was put together again.',
        'Look whether the names are right.',
      ),
    );
  } else if (/[\u00c2-\u00f4][\u0080-\u00bf]/.test(text) && !/[\u0100-\uffff]/.test(text)) {
    const proper = utf8Of(text);
    if (proper !== null) {
      text = proper;
      findings.push(
        whole(
          'information',
          'encoding',
          'The text was UTF-8 read as Latin-1; it was put right.',
          'Look whether names with accents are right.',
        ),
      );
    }
  }
  if (text.startsWith('\ufeff')) text = text.slice(1);
  if (text.includes('\u0000')) {
    text = text.replaceAll('\u0000', '');
    findings.push(
      whole(
        'warning',
        'nul',
        'The text holds NUL characters; they were left out.',
        'Copy the cells as text, not the file as it lies on the disk.',
      ),
    );
  }
  if (text.includes('\ufffd')) {
    findings.push(
      whole(
        'warning',
        'lost-character',
        'Some characters were lost before the text came here (shown as \ufffd).',
        'Save the sheet as UTF-8 and paste again.',
      ),
    );
  }
  return { text, findings };
}

/** Which byte of each pair comes first, when the text is UTF-16 shown byte by byte. */
function wideOrder(text: string): 'low' | 'high' | null {
  if (text.startsWith('\u00ff\u00fe')) return 'low';
  if (text.startsWith('\u00fe\u00ff')) return 'high';
  const head = text.slice(0, 400);
  if (head.length < 8 || !head.includes('\u0000')) return null;
  let [even, odd] = [0, 0];
  for (let i = 0; i < head.length; i += 1) {
    if (head.charCodeAt(i) !== 0) continue;
    if (i % 2 === 0) even += 1;
    else odd += 1;
  }
  const most = head.length * 0.4; // of the half that would be zero
  if (odd >= most && even === 0) return 'low';
  return even >= most && odd === 0 ? 'high' : null;
}

function pairsOf(text: string, order: 'low' | 'high'): string {
  const parts: string[] = [];
  for (let i = 0; i + 1 < text.length; i += 2) {
    const [a, b] = [text.charCodeAt(i) & 255, text.charCodeAt(i + 1) & 255];
    parts.push(String.fromCharCode(order === 'low' ? a + 256 * b : 256 * a + b));
  }
  return parts.join('');
}

function utf8Of(text: string): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(Uint8Array.from(text, (c) => c.charCodeAt(0)));
  } catch {
    return null; // it was Latin-1 after all
  }
}
