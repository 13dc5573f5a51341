/** The page, computed: what its widgets show, and what it is about. Nothing here is stored. */
import type { Fact, PageContext, WidgetContext, WidgetDefinition, WidgetState } from '@/lib/widgets/definition';
import { pageJob } from './job';
import { bodyText, plainText, titleOf } from './prose';
import type { EvaluatedPage, EvaluatedWidget, PageContent } from './types';
import { widgetNodes } from './walk';
import { refusal } from './widget-state';

/** The definition of a kind; null for one that is not known, or not here yet. */
type DefinitionOf = (kind: string) => WidgetDefinition | null;

/**
 * Computes every widget alone, to learn what each needs and proves; those that asked for what the others have once more with it. A kind that
 * this version does not know keeps its data; a state that its schema refuses becomes an error that names the key.
 */
export function evaluateWith(definitionOf: DefinitionOf, content: PageContent, context: PageContext): EvaluatedPage {
  const placed = uniqueById(widgetNodes(content.doc)).map(({ id, kind }) => read(definitionOf, id, kind, content.widgets[id] ?? {}));
  const jobOf = pageJob(placed, context);
  const asking = new Set<string>();
  const noneYet = (id: string) => () => {
    asking.add(id);
    return [];
  };
  const alone = placed.map((widget) => {
    const { id } = widget;
    return compute(widget, { ...context, needs: noneYet(id), proofs: noneYet(id), job: () => jobOf(id) });
  });
  const widgets = alone.map((widget) =>
    asking.has(widget.id) ? compute(widget, widgetContext(alone, widget.id, context, jobOf)) : widget,
  );
  const title = titleOf(content.doc);
  const prose = plainText(content.doc);
  return {
    title,
    text: prose.startsWith(title) ? prose : `${title}\n${prose}`.trim(),
    body: bodyText(content.doc),
    widgets,
    facts: uniqueFacts([
      ...machineFacts(context),
      ...widgets.flatMap((w) => (w.definition && !w.error ? w.definition.facts(w.model) : [])),
    ]),
    progress: widgets.flatMap((w) => (w.error ? [] : (w.definition?.progress?.(w.model) ?? [])).map((row) => ({ ...row, widget: w.id }))),
  };
}

/** What one widget of a page computes from: what the page is given, and what its other widgets say. `jobOf`: of the page, if it is known. */
export const widgetContext = (
  widgets: readonly EvaluatedWidget[],
  id: string,
  context: PageContext,
  jobOf = pageJob(widgets, context),
): WidgetContext => ({
  ...context,
  needs: () => widgets.flatMap((w) => (w.id === id || w.error ? [] : (w.definition?.needs?.(w.model) ?? []))),
  proofs: () => widgets.flatMap((w) => (w.id === id || w.error ? [] : (w.definition?.proof?.(w.model) ?? []))).filter(Boolean),
  job: () => jobOf(id),
});

/** A widget whose state was read, and not computed yet. */
function read(definitionOf: DefinitionOf, id: string, kind: string, state: WidgetState): EvaluatedWidget {
  const definition = definitionOf(kind);
  const model = null;
  if (!definition) return { id, kind, state, definition, model };
  const result = definition.state.safeParse(state);
  return { id, kind, state, definition, model, ...(!result.success && { error: refusal(result.error) }) };
}

const compute = (widget: EvaluatedWidget, context: WidgetContext): EvaluatedWidget =>
  widget.definition && widget.error === undefined ? { ...widget, model: widget.definition.compute(widget.state, context) } : widget;

function machineFacts({ chart }: PageContext): Fact[] {
  if (!chart) return [];
  return [
    { kind: 'machine', value: chart.machine.id, label: chart.title },
    { kind: 'board-design', value: chart.design.id, label: chart.design.id },
  ];
}

const uniqueById = <T extends { id: string }>(items: T[]): T[] =>
  [...new Map(items.toReversed().map((item) => [item.id, item])).values()].toReversed();

/** The first of each kind and value. A circuit the page is about is not its own sibling. */
function uniqueFacts(facts: Fact[]): Fact[] {
  const circuits = new Set(facts.filter((fact) => fact.kind === 'circuit').map((fact) => fact.value));
  const seen = new Set<string>();
  return facts.filter(({ kind, value }) => {
    const key = `${kind} ${value}`;
    if (value === '' || seen.has(key) || (kind === 'sibling' && circuits.has(value))) return false;
    seen.add(key);
    return true;
  });
}
