/**
 * Who may do what. One function decides for HTTP, sockets, search, files and export; nothing else in the house knows roles.
 */
export const roles = ['owner', 'editor', 'reader'] as const;
export type Role = (typeof roles)[number];
/** Anyone who asks: a signed-in member, or nobody. */
export type Actor = { id: string; role: Role } | null;

export const actions = ['read', 'write', 'create', 'remove', 'share', 'manage'] as const;
export type Action = (typeof actions)[number];
export const things = [
  'page',
  'machine',
  'catalogue',
  'stock',
  'search',
  'export',
  'file',
  'report',
  'member',
  'invite',
  'token',
  'club',
] as const;
export type Thing = (typeof things)[number];

const none: Action[] = [];
const grants: Record<Role, Record<Thing, Action[]>> = {
  owner: {
    page: ['read', 'write', 'create', 'remove', 'share'],
    machine: ['read', 'write', 'create', 'remove'],
    catalogue: ['read', 'write'],
    stock: ['read', 'write'],
    search: ['read'],
    export: ['read'],
    file: ['read', 'write', 'create', 'remove'],
    report: ['read', 'create', 'remove'],
    member: ['read', 'manage', 'remove'],
    invite: ['read', 'create', 'remove'],
    token: ['read', 'create', 'remove'],
    club: ['read', 'manage'],
  },
  editor: {
    page: ['read', 'write', 'create', 'share'],
    machine: ['read', 'write', 'create'],
    catalogue: ['read', 'write'],
    stock: ['read', 'write'],
    search: ['read'],
    export: ['read'],
    file: ['read', 'write', 'create', 'remove'],
    report: ['read', 'create', 'remove'],
    member: ['read'],
    invite: none,
    token: ['read', 'create', 'remove'],
    club: ['read'],
  },
  reader: {
    page: ['read'],
    machine: ['read'],
    catalogue: ['read'],
    stock: ['read'],
    search: ['read'],
    export: ['read'],
    file: ['read'],
    report: none,
    member: ['read'],
    invite: none,
    token: ['read', 'create', 'remove'],
    club: ['read'],
  },
};

/** True when the actor may do the action to that sort of thing. Nobody may do anything; unknown words are refused. */
export function can(actor: Actor, action: Action, thing: Thing): boolean {
  // The lists are asked first: a plain object answers to words such as “constructor” too.
  return actor !== null && roles.includes(actor.role) && things.includes(thing) && grants[actor.role][thing].includes(action);
}
