/** Lines that a machine names: whether the board design has them, and whether they are of the kind that the thing needs. */
import { error, type Lint, rest, warning } from './finding';
import { boardOf } from './names';
import type { Net } from './schema';
import type { Chart } from './types';

export function* lintLines({ machine, design, nets, taps }: Chart): Lint {
  const wanted: { path: string; id: string; kinds: Net['kind'][] }[] = [
    ...machine.direct.map((d, i) => ({ path: `direct[${i}].net`, id: d.net, kinds: ['direct' as const] })),
    ...machine.loads.flatMap((l, i) => [
      { path: `loads[${i}].net`, id: l.net, kinds: ['load' as const] },
      { path: `loads[${i}].supply`, id: l.supply, kinds: ['supply' as const] },
    ]),
    ...machine.illumination.flatMap((g, i) => [
      { path: `illumination[${i}].net`, id: g.net, kinds: ['illumination' as const, 'supply' as const] },
      { path: `illumination[${i}].back`, id: g.back, kinds: ['illumination' as const, 'ground' as const] },
    ]),
  ];
  for (const { path, id, kinds } of wanted) {
    yield rest;
    const net = nets.get(id);
    if (!net)
      yield error('unknown-line', path, `The line ${id} is not in the board design ${design.id}.`, 'Correct its name, or add the line.');
    else if (!kinds.includes(net.kind)) {
      yield warning('line-of-other-kind', path, `${id} is a ${net.kind} line.`, `Use a line of the kind ${kinds.join(' or ')}.`);
    }
  }
  for (const [i, { net, name }] of machine.direct.entries()) {
    yield rest;
    const other = machine.direct.find((d) => d.net === net);
    if (other && other !== machine.direct[i]) {
      const message = `${other.name} and ${name} are on one input, ${net}: the board cannot tell them apart.`;
      yield warning('input-twice', `direct[${i}].net`, message, 'Correct one, unless they are wired in parallel.');
    }
  }
  const grounds = [...nets.values()].filter((net) => net.kind === 'ground').flatMap((net) => taps.get(net.id) ?? []);
  if (machine.direct.length > 0 && grounds.length === 0) {
    const message = 'There are direct switches, but no ground of the board design reaches a header.';
    yield error('direct-without-ground', 'direct', message, 'Add the ground line and its pin to the board design.');
    return;
  }
  const grounded = new Set(grounds.map((tap) => boardOf(tap.header)));
  for (const [i, { net, name }] of machine.direct.entries()) {
    yield rest;
    const boards = (taps.get(net) ?? []).map((tap) => boardOf(tap.header));
    if (boards.length === 0 || boards.some((board) => grounded.has(board))) continue;
    const message = `${name} is read by ${boards[0]}, but no header of that board carries a ground for it.`;
    yield warning('direct-without-ground', `direct[${i}].net`, message, 'Add the ground pin, unless its ground comes from another board.');
  }
}
