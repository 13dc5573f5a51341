/** Looking at rendered HTML without a browser. */
import type { ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';

export const render = (node: ReactNode) => renderToStaticMarkup(node);

/** Opening tags with their attributes, in order. */
export function tags(html: string): { name: string; attrs: Map<string, string> }[] {
  return [...html.matchAll(/<([a-z][\w-]*)((?:\s+[\w:-]+(?:="[^"]*")?)*)\s*\/?>/gi)].map(([, name = '', rest = '']) => ({
    name,
    attrs: new Map([...rest.matchAll(/([\w:-]+)(?:="([^"]*)")?/g)].map(([, key = '', value = '']) => [key, value])),
  }));
}

const entities: Record<string, string> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&#x27;': "'" };
/** Visible text; a tag ends a word unless it stands inside a drawing's lettering. */
export const textOf = (html: string) =>
  html
    .replace(/<[^>]*>/g, ' ')
    .replace(/&[#\w]+;/g, (e) => entities[e] ?? e)
    .replace(/\s+/g, ' ')
    .trim();

export const valuesOf = (html: string, attribute: string) => tags(html).flatMap(({ attrs }) => attrs.get(attribute) ?? []);

/** What a strict content security policy refuses, and ids that stand twice. */
export function faults(html: string): string[] {
  const ids = valuesOf(html, 'id');
  return [
    ...tags(html).flatMap(({ name, attrs }) =>
      [...attrs.keys()].filter((a) => a === 'style' || /^on[a-z]/i.test(a)).map((a) => `<${name} ${a}>`),
    ),
    ...tags(html)
      .filter(({ name }) => name === 'script' || name === 'style')
      .map(({ name }) => `<${name}>`),
    ...ids.filter((id, k) => ids.indexOf(id) !== k).map((id) => `id twice: ${id}`),
    ...[...valuesOf(html, 'for'), ...valuesOf(html, 'list'), ...valuesOf(html, 'aria-describedby').flatMap((v) => v.split(' '))]
      .filter((id) => !ids.includes(id))
      .map((id) => `refers to nothing: ${id}`),
  ];
}

/** Wires that are drawn somewhere but named nowhere in words. */
export function unnamedWires(html: string): string[] {
  const text = textOf(html);
  const labels = valuesOf(html, 'aria-label').join(' ');
  return [...new Set(valuesOf(html, 'data-wire'))].filter((wire) => !text.includes(wire) && !labels.includes(wire));
}
