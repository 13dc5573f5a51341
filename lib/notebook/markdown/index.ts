export { fromMarkdown, type MarkdownRead } from './read';
export { readableMarkdown } from './readable';
export { toMarkdown } from './write';
