/** The browser's cache storage as far as the worker uses it (W3C Service Workers § 5.4–5.5): puts move an entry to the end. */
export class FakeCaches {
  readonly all = new Map<string, Map<string, Response>>();

  async open(name: string) {
    const entries = this.all.get(name) ?? new Map<string, Response>();
    this.all.set(name, entries);
    return {
      match: async (asked: string | Request) => entries.get(pathOf(asked))?.clone(),
      put: async (asked: string, response: Response) => {
        entries.delete(pathOf(asked));
        entries.set(pathOf(asked), response);
      },
      delete: async (asked: string | Request) => entries.delete(pathOf(asked)),
      keys: async () => [...entries.keys()].map((path) => new Request(`https://club.example${path}`)),
    };
  }
  async match(asked: string | Request) {
    for (const entries of this.all.values()) if (entries.has(pathOf(asked))) return entries.get(pathOf(asked))?.clone();
    return undefined;
  }
  delete = async (name: string) => this.all.delete(name);
  keys = async () => [...this.all.keys()];
  has = async (name: string) => this.all.has(name);

  paths = (name: string) => [...(this.all.get(name)?.keys() ?? [])];
}

function pathOf(asked: string | Request): string {
  if (typeof asked === 'string') return asked;
  const { pathname, search } = new URL(asked.url);
  return pathname + search;
}
