/** What is too much to read: the parser's time grows with the square of some things, and one request must not hold up everybody. */

const markdownLimit = 1_000_000; // bytes of UTF-8
const mostLines = 20_000;
const deepest = 50; // levels of quotes and lists
/** Sum over paragraphs of (marks)². Measured on a shared two-core box: 10,000 marks in one paragraph take about a second, 40,000 a minute. */
const mostWork = 10_000 ** 2;

const marks = /[*_]+|\[/g; // what may open or close emphasis or a link
const containers = /^(?:\s*(?:>|[-+*]|\d{1,9}[.)])(?=\s|>|$))+/;

export interface TooMuch {
  message: string;
  mend: string;
}

/** The first limit that the text breaks, with the line where there is one; null when it may be read. */
export function tooMuch(text: string): TooMuch | null {
  const bytes = new TextEncoder().encode(text).length;
  if (bytes > markdownLimit)
    return { message: `The text is ${(bytes / 1e6).toFixed(1)} MB; a page takes 1 MB.`, mend: 'Split it into several pages.' };
  const lines = text.split(/\r\n?|\n/);
  if (lines.length > mostLines)
    return { message: `The text has ${lines.length} lines; a page takes ${mostLines}.`, mend: 'Split it into several pages.' };
  let work = 0;
  let inParagraph = 0;
  for (const [index, line] of lines.entries()) {
    const levels = containers.exec(line)?.[0].match(/[>+*.)-]/g)?.length ?? 0;
    if (levels > deepest)
      return { message: `Line ${index + 1} is nested more than ${deepest} deep.`, mend: 'Take some of its quote or list marks away.' };
    const before = line.trim() === '' ? 0 : inParagraph;
    inParagraph = before + (line.match(marks)?.length ?? 0);
    work += inParagraph ** 2 - before ** 2;
    if (work > mostWork)
      return {
        message: `The paragraph at line ${index + 1} has too many of the marks * _ [.`,
        mend: 'Part it by blank lines, or take marks away.',
      };
  }
  return null;
}
