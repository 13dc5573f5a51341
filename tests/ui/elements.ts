/** The host elements that a view draws, with their handlers. Views are pure functions without hooks, so calling them is enough. */
import { isValidElement, type ReactNode } from 'react';

export interface Host {
  type: string;
  props: Record<string, unknown>;
}

export function hosts(node: ReactNode): Host[] {
  if (Array.isArray(node)) return node.flatMap(hosts);
  if (!isValidElement<Record<string, unknown>>(node)) return [];
  const { type, props } = node;
  if (typeof type === 'function') return hosts((type as (p: unknown) => ReactNode)(props));
  const inside = hosts(props.children as ReactNode);
  return typeof type === 'string' ? [{ type, props }, ...inside] : inside;
}

type Handler = 'onClick' | 'onChange';

export function call(host: Host | undefined, handler: Handler, event: unknown = {}) {
  const fn = host?.props[handler];
  if (typeof fn !== 'function') throw new Error(`no ${handler} to call`);
  fn(event);
}

/** Calls a handler of the only element that fits. */
export function fire(node: ReactNode, fits: (host: Host) => boolean, handler: Handler, event: unknown = {}) {
  const found = hosts(node).filter(fits);
  if (found.length !== 1) throw new Error(`${found.length} elements fit`);
  call(found[0], handler, event);
}
