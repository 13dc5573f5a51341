export { fromMarkdown, type MarkdownRead } from './read';
export { toMarkdown } from './write';
