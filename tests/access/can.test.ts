import { expect, test } from 'vitest';
import { type Action, actions, can, type Role, roles, type Thing, things } from '@/lib/access/can';

// What each role may do, written out apart from the code: o owner, e editor, r reader, - nobody. House rule, no outside source.
const table = `
            read  write  create  remove  share  manage
page        oer   oe     oe      o       oe     -
machine     oer   oe     oe      o       -      -
catalogue   oer   oe     -       -       -      -
stock       oer   oe     -       -       -      -
search      oer   -      -       -       -      -
export      oer   -      -       -       -      -
file        oer   oe     oe      oe      -      -
report      oe    -      oe      oe      -      -
member      oer   -      -       o       -      o
invite      o     -      o       o       -      -
token       oer   -      oer     oer     -      -
club        oer   -      -       -       -      o
`;
const [heads = [], ...rows] = table
  .trim()
  .split('\n')
  .map((line) => line.trim().split(/\s+/));
const allowed = new Map(rows.flatMap(([thing, ...cells]) => cells.map((cell, i) => [`${heads[i]} ${thing}`, cell] as const)));

test('the table speaks of every action and every thing', () => {
  expect([...heads].sort()).toEqual([...actions].sort());
  expect(rows.map((r) => r[0]).sort()).toEqual([...things].sort());
  expect(allowed.size).toBe(actions.length * things.length);
  for (const row of rows) expect(row).toHaveLength(actions.length + 1);
});

test.each(roles.flatMap((role) => actions.flatMap((action) => things.map((thing) => [role, action, thing] as const))))(
  '%s, %s %s',
  (role, action, thing) => {
    expect(can({ id: 'x', role }, action, thing)).toBe(allowed.get(`${action} ${thing}`)?.includes(role.charAt(0)));
  },
);

test('nobody may do anything', () => {
  for (const action of actions) for (const thing of things) expect(can(null, action, thing)).toBe(false);
});

test('words that are unknown, or that every object knows, are refused', () => {
  const words = ['', 'admin', 'Owner', '__proto__', 'constructor', 'toString', 'hasOwnProperty'];
  for (const word of words) {
    for (const thing of things) {
      for (const action of actions) expect(can({ id: 'x', role: word as Role }, action, thing)).toBe(false);
      expect(can({ id: 'x', role: 'owner' }, word as Action, thing)).toBe(false);
    }
    for (const action of actions) expect(can({ id: 'x', role: 'owner' }, action, word as Thing)).toBe(false);
    expect(can({ id: 'x', role: word as Role }, word as Action, word as Thing)).toBe(false);
  }
});
