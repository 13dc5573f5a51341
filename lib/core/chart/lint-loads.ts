/** Loads and strings of lamps: fuses, windings and both legs. */
import { lintDesignator } from './designators';
import { error, type Lint, rest, warning } from './finding';
import { fuseAmps, fuseName } from './fuse';
import { lintFuse, wiresOf } from './lint-net';
import type { Illumination, Load } from './schema';
import type { Chart, Finding } from './types';

export function* lintLoads(chart: Chart): Lint {
  for (const [i, load] of chart.machine.loads.entries()) {
    yield rest;
    yield* lintLoad(chart, load, `loads[${i}]`);
  }
  for (const [i, string] of chart.machine.illumination.entries()) {
    yield rest;
    yield* lintString(chart, string, `illumination[${i}]`);
  }
}

const gaugesOf = ({ design, nets }: Chart, ...lines: string[]): number[] =>
  lines.flatMap((id) => {
    const net = nets.get(id);
    return net ? wiresOf(design, net) : [];
  });

function* lintLoad(chart: Chart, load: Load, path: string): Generator<Finding> {
  const name = `${load.number} ${load.name}`;
  const supply = chart.nets.get(load.supply);
  const fuse = load.fuse ?? supply?.fuse;
  if (fuse === undefined) {
    const message = `${name} has no fuse, nor has its supply ${load.supply}.`;
    yield warning('load-without-fuse', path, message, 'Enter the fuse that the manual prints; if there is none, one belongs there.');
  } else {
    const gauges = gaugesOf(chart, load.net, load.supply);
    if (gauges.length > 0) yield* lintFuse(load.fuse === undefined ? path : `${path}.fuse`, fuse, gauges, name);
  }
  yield* differs(`${path}.fuse`, name, load.fuse, supply?.fuse);
  const field = load.holdOhms !== undefined ? 'holdOhms' : 'windings';
  if ((load.windings === 'double' && load.kind !== 'coil') || (load.holdOhms !== undefined && load.windings !== 'double')) {
    const message = `${name}, a ${load.kind}, is given two windings in one place and one in another.`;
    yield warning(
      'windings',
      `${path}.${field}`,
      message,
      'Only a coil has two: correct its kind, its windings or its holding resistance.',
    );
  } else if (load.holdOhms !== undefined && load.ohms !== undefined && load.holdOhms <= load.ohms) {
    const message = `${name} holds at ${load.holdOhms} Ω and pulls at ${load.ohms} Ω.`;
    yield warning('windings', `${path}.holdOhms`, message, 'The strong winding has fewer ohms: exchange the two figures.');
  }
  if (load.flyback === 'none' && load.kind !== 'flasher' && supply?.supply !== 'ac') {
    const message = `${name} is wound, and nothing takes its kick when it is switched off.`;
    yield warning(
      'no-flyback',
      `${path}.flyback`,
      message,
      'Look for its diode at the coil and on the board: without one its driver dies.',
    );
  }
}

/** One fuse, two ratings: somebody will fit the heavier one. */
function* differs(path: string, name: string, own: string | undefined, ofLine: string | undefined): Generator<Finding> {
  if (own === undefined || ofLine === undefined || fuseName(own) === null || fuseName(own) !== fuseName(ofLine)) return;
  if (fuseAmps(own) === fuseAmps(ofLine)) return;
  const message = `${name} gives its fuse as ${own}, but the board design has ${ofLine}.`;
  yield warning('fuse-differs', path, message, 'Take the manual’s rating for both; never fit a heavier fuse.');
}

function* lintString(chart: Chart, string: Illumination, path: string): Generator<Finding> {
  const name = `${string.id} ${string.name}`;
  const line = chart.nets.get(string.net);
  if (string.net === string.back) {
    const message = `${name} leaves and comes back on one line, ${string.net}: it has only one leg.`;
    yield error('one-leg', `${path}.back`, message, 'Name the line of each leg.');
  }
  for (const [k, pin] of (string.taps ?? []).entries()) {
    const tap = chart.pins.get(pin);
    yield* lintDesignator(`${path}.taps[${k}]`, pin);
    if (!tap) {
      yield error('string-unknown-tap', `${path}.taps[${k}]`, `${pin} is no wired pin of the board design.`, 'Correct the pin.');
    } else if (tap.net !== string.net && tap.net !== string.back) {
      const message = `${name} is fed at ${pin}, which carries ${tap.net}.`;
      yield error('string-off-line', `${path}.taps[${k}]`, message, 'Correct the pin, or the lines of the string.');
    }
  }
  for (const leg of ['net', 'back'] as const) {
    if (!string.taps || string.taps.some((pin) => chart.pins.get(pin)?.net === string[leg])) continue;
    const message = `None of the pins of ${name} is on ${string[leg]}: one leg is missing.`;
    yield error('one-leg', `${path}.taps`, message, 'List the pins of both legs.');
  }
  if (string.lamps > 0 && string.fuse === undefined && line?.fuse === undefined) {
    const message = `${name} has no fuse, nor has its line ${string.net}.`;
    yield warning('load-without-fuse', path, message, 'Enter the fuse that the manual prints; if there is none, one belongs there.');
  } else if (string.fuse !== undefined) {
    const gauges = gaugesOf(chart, string.net, string.back);
    if (gauges.length > 0) yield* lintFuse(`${path}.fuse`, string.fuse, gauges, name);
    yield* differs(`${path}.fuse`, name, string.fuse, line?.fuse);
  }
  if (string.supply !== undefined && line?.supply !== undefined && string.supply !== line.supply) {
    const message = `${name} is on ${string.supply}, its line ${string.net} on ${line.supply}.`;
    yield warning('supply-differs', `${path}.supply`, message, 'Correct one: a meter must be set to the right one of a.c. and d.c.');
  }
}
