/** A hard fault of the engine as the circuit simulator speaks of it. */
import type { SwitchMode } from '@/lib/core/diagnosis/switch/modes';
import type { Physical, Place } from '../simulator/types';
import type { Wiring } from '../simulator/wiring';

export function physicalOf(sim: Wiring, mode: SwitchMode): Physical[] {
  if (mode.effect.does !== 'cut') return [mode.effect];
  const open = (...places: Place[]): Physical[] => places.map((at) => ({ does: 'open', at }));
  const [kind = '', first = '', second = '', third = ''] = mode.element.split(' ');
  switch (kind) {
    case 'driver':
    case 'input':
      return open({ place: kind, line: first });
    case 'joint':
      return open({ place: 'joint', pin: first });
    case 'terminal':
      return open({ place: 'pin', pin: first });
    case 'inline':
      return open({ place: 'inline', pin: first });
    case 'run': // "run switch-row.1 A1J2-1 31"
      return open({ place: 'segment', pin: second, to: third });
    case 'splice': {
      const at = sim.places.find((place) => place.place === 'splice' && place.splice === second && place.to === undefined);
      return at ? open(at) : [];
    }
    case 'tail':
      return open({ place: 'lug', switch: second, side: sideOf(first) });
    case 'contact':
    case 'diode':
      return open({ place: kind, switch: first });
    case 'plug':
      return [{ does: 'unplugged', header: first }];
    case 'package':
      return open({ place: 'package', part: first });
    case 'matrix':
      return open(...sim.columns.map((index): Place => ({ place: 'driver', line: sim.lines[index]?.id ?? '' })));
    case 'ground':
      return open(...(sim.chart.taps.get('ground') ?? []).map(({ pin }): Place => ({ place: 'joint', pin })));
    case 'emitters':
      return [{ does: 'emitters-off', supply: first }];
    default:
      throw new Error(`No place of the simulator for ${mode.element}.`);
  }
}

const sideOf = (net: string) => (net.startsWith('switch-column') ? 'column' : net.startsWith('switch-row') ? 'row' : 'input');
