/** Content that comes from outside as JSON: checked before it is written. */
import { z } from 'zod';
import { isId, isKind } from './ids';
import { isAllowedUrl } from './links';
import { headingLevels, schema } from './schema';
import type { DocNode, PageContent } from './types';
import { nodesIn } from './walk';

const deepest = 100; // levels of nesting
const attrs = z.record(z.string(), z.unknown());
const node: z.ZodType<DocNode> = z.lazy(() =>
  z.object({
    type: z.string(),
    attrs: attrs.optional(),
    content: z.array(node).optional(),
    text: z.string().optional(),
    marks: z.array(z.object({ type: z.string(), attrs: attrs.optional() })).optional(),
  }),
);
const shape = z.object({ doc: node, widgets: z.record(z.string(), z.record(z.string(), z.json())).default({}) });

export type ContentCheck = { ok: true; content: PageContent } | { ok: false; message: string; mend: string };

/** The content when it fits the document schema; else what does not, and the mend. */
export function checkContent(json: unknown): ContentCheck {
  const refuse = (message: string, mend: string): ContentCheck => ({ ok: false, message, mend });
  if (depthOf(json) > deepest * 2)
    return refuse(`The page is nested more than ${deepest} deep.`, 'Take some quotes or lists out of one another.');
  const read = shape.safeParse(json);
  if (!read.success) {
    const issue = read.error.issues[0];
    return refuse(
      `${issue?.path.join('.') || 'The page'}: ${issue?.message ?? 'not understood'}.`,
      'Send {"doc": …, "widgets": …} as a page is read.',
    );
  }
  for (const { type, attrs, marks } of nodesIn(read.data.doc)) {
    if (type === 'heading' && !headingLevels.some((level) => level === attrs?.level))
      return refuse('A heading has no level of 1 to 3.', 'Give it attrs.level 1, 2 or 3.');
    if (type === 'orderedList' && attrs?.start !== undefined && !Number.isSafeInteger(attrs.start))
      return refuse('A numbered list starts at no whole number.', 'Give it a whole attrs.start.');
    if (type === 'widget' && !(isId(attrs?.id) && isKind(attrs.kind)))
      return refuse('A widget has no proper id or kind.', 'Give it attrs.id and attrs.kind of letters, digits and hyphens.');
    const link = marks?.find((mark) => mark.type === 'link' && !isAllowedUrl(mark.attrs?.href));
    if (link)
      return refuse(
        `A link leads to ${String(link.attrs?.href).slice(0, 80)}.`,
        'Link to an http, https, mailto or tel address, or to a page of this notebook.',
      );
  }
  try {
    const root = schema.nodeFromJSON(read.data.doc);
    if (root.type !== schema.topNodeType) return refuse(`The page is a ${root.type.name}.`, 'Send a node of type doc.');
    root.check();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refuse(`doc: ${error.message.slice(0, 200)}.`, 'Use the nodes and marks of a page as it is read.');
  }
  return { ok: true, content: read.data };
}

/** Levels of arrays and objects, counted without recursion and no further than is of interest. */
function depthOf(json: unknown): number {
  let level: unknown[] = [json];
  let depth = 0;
  while (level.length > 0 && depth <= deepest * 2) {
    level = level.flatMap((value) => (typeof value === 'object' && value !== null ? Object.values(value) : []));
    depth++;
  }
  return depth;
}
