/** The demo machine with an in-line connector, broken in just one way, and what the lint finds: level, rule, path. The rules are trade judgement. */
import type { Machine } from '@/lib/core/chart/schema';

const pins = (m: Machine) => m.inlinePins ?? [];

export const inlineCases: [what: string, breakIt: (m: Machine) => void, found: string[]][] = [
  ['two of one name', (m) => m.inline?.push({ ...m.inline[0]!, name: 'Twin' }), ['error inline-twice inline[1].id']],
  ['two that go together crosswise', (m) => m.inline?.push({ ...m.inline[0]!, id: 'X2' }), ['warning exchangeable inline[1]']],
  ['no key and no lock', (m) => Object.assign(m.inline![0]!, { keys: [], lock: 'none' }), ['warning could-be-turned inline[0]']],
  ['a key beyond its end', (m) => m.inline![0]!.keys.push(9), ['error key-beyond-positions inline[0].keys[1]']],
  ['a wire on the key', (m) => m.inlinePins?.push({ pin: 'X1-5', net: 'ground' }), ['error wire-on-key inlinePins[6].pin']],
  [
    'a position beyond its end',
    (m) => m.inlinePins?.push({ pin: 'X1-8', net: 'ground' }),
    ['error pin-beyond-positions inlinePins[6].pin'],
  ],
  ['a position of no connector', (m) => m.inlinePins?.push({ pin: 'X4-1', net: 'ground' }), ['error inline-unknown inlinePins[6].pin']],
  ['a position twice', (m) => m.inlinePins?.push({ ...pins(m)[5]! }), ['error pin-twice inlinePins[6]']],
  ['two lines on one position', (m) => m.inlinePins?.push({ pin: 'X1-7', net: 'direct.1' }), ['error two-lines-on-pin inlinePins[6]']],
  ['a line that is not there', (m) => Object.assign(pins(m)[5]!, { net: 'ground.moon' }), ['error unknown-line inlinePins[5].net']],
  [
    'a near wire that is not as its line',
    (m) => Object.assign(pins(m)[2]!, { wires: [{ colour: 'pink' }] }),
    ['warning colour-differs inlinePins[2].wires[0].colour'],
  ],
  [
    'two lines of one colour in the far half',
    (m) => Object.assign(pins(m)[1]!, { far: [{ colour: 'yellow/red' }] }),
    ['warning same-colour inlinePins[1]'],
  ],
  [
    'strands of the far half that do not make its gauge',
    (m) => Object.assign(pins(m)[0]!, { far: [{ colour: 'yellow/red', strands: 60, strandMm: 0.5 }] }),
    ['warning strands-not-gauge inlinePins[0].far[0].strands'],
  ],
  [
    'a chain through a position that is not there',
    (m) =>
      Object.assign(m.chains.find((c) => c.tap === 'A1J10-1')!, {
        steps: [{ inline: 'X1-9' }, { switch: '13' }, { switch: '14' }, { switch: '15' }, { switch: '16' }],
      }),
    ['error chain-unknown-inline chains[9].steps[0].inline', 'warning inline-off-chain inlinePins[0].pin'],
  ],
  [
    'a chain through a position of another line',
    (m) => Object.assign(m.chains.find((c) => c.tap === 'A1J10-6')!, { steps: [{ inline: 'X1-3' }, { switch: 'D4' }] }),
    [
      'error inline-off-line chains[13].steps[0].inline',
      'warning inline-claimed-twice chains[13].steps[0].inline',
      'warning inline-off-chain inlinePins[4].pin',
    ],
  ],
  [
    'keys found at one that is not there',
    (m) => m.keysAsFound.push({ header: 'X9', pins: [], on: '2026-01-09', by: 'Wen' }),
    ['error found-unknown-header keysAsFound[0].header'],
  ],
];
