export { fromMarkdown, type MarkdownRead, markdownLimit } from './read';
export { toMarkdown } from './write';
