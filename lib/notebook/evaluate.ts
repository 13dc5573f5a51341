/** The page, computed: what its widgets show, and what it is about. Nothing here is stored. */
import type { Need } from '@/lib/core/parts/schema';
import type { Fact, WidgetContext } from '@/lib/widgets/definition';
import { definitionOf } from '@/lib/widgets/registry';
import { plainText, titleOf } from './prose';
import type { EvaluatedPage, EvaluatedWidget, PageContent } from './types';
import { widgetNodes } from './walk';
import { refusal } from './widget-state';

/**
 * Computes every widget alone, to learn what each needs; those that asked for the needs of the others once more with them. A kind that this version does
 * not know keeps its data; a state that its schema refuses becomes an error that names the key.
 */
export function evaluatePage(content: PageContent, context: Omit<WidgetContext, 'needs'>): EvaluatedPage {
  const placed = uniqueById(widgetNodes(content.doc)).map(({ id, kind }) => ({ id, kind, state: content.widgets[id] ?? {} }));
  const asking = new Set<string>();
  const noneYet = (id: string) => () => {
    asking.add(id);
    return [];
  };
  const alone = placed.map((widget) => compute(widget, { ...context, needs: noneYet(widget.id) }));
  const needs = alone.map(needsOf);
  const ofOthers = (index: number) => needs.flatMap((own, other) => (other === index ? [] : own));
  const widgets = alone.map((widget, index) =>
    asking.has(widget.id) ? compute(widget, { ...context, needs: () => ofOthers(index) }) : widget,
  );
  const title = titleOf(content.doc);
  const prose = plainText(content.doc);
  return {
    title,
    text: prose.startsWith(title) ? prose : `${title}\n${prose}`.trim(),
    widgets,
    facts: uniqueFacts([
      ...machineFacts(context),
      ...widgets.flatMap((w) => (w.definition && !w.error ? w.definition.facts(w.model) : [])),
    ]),
    progress: widgets.flatMap((w) => (w.error ? [] : (w.definition?.progress?.(w.model) ?? [])).map((row) => ({ ...row, widget: w.id }))),
  };
}

const needsOf = (widget: EvaluatedWidget): Need[] => (widget.error ? [] : (widget.definition?.needs?.(widget.model) ?? []));

function compute({ id, kind, state }: Pick<EvaluatedWidget, 'id' | 'kind' | 'state'>, context: WidgetContext): EvaluatedWidget {
  const definition = definitionOf(kind);
  if (!definition) return { id, kind, state, definition: null, model: null };
  const read = definition.state.safeParse(state);
  if (!read.success) return { id, kind, state, definition, model: null, error: refusal(read.error) };
  return { id, kind, state, definition, model: definition.compute(read.data, context) };
}

function machineFacts({ chart }: Omit<WidgetContext, 'needs'>): Fact[] {
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
