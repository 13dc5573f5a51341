import { field, type Telling, tell, text } from '../telling';

const sorts: Record<string, string> = { arrow: 'An arrow', number: 'A number', pin: 'A pin label' };
const sortOf = (value: unknown): string =>
  typeof value === 'object' && value !== null && 'sort' in value ? (sorts[String(value.sort)] ?? 'A mark') : 'A mark';
const came = (what: string) => (before: unknown, after: unknown) =>
  before === undefined ? tell(`${what} added`) : tell(after === undefined ? `${what} taken off` : `${what} changed`);
const moved = () => (before: unknown, after: unknown) => (before === undefined || after === undefined ? [] : tell('A mark moved'));

export const photo: Telling = {
  families: {
    photo: () => came('A photo'),
    caption: () => text('Caption'),
    mark: () => (before, after) => came(sortOf(after ?? before))(before, after),
    from: moved,
    to: moved,
    label: () => field('Label'),
    after: () => (_, after) => tell(after === undefined ? 'Before and after taken apart' : 'Shown as before and after'),
  },
};
