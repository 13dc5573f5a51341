/** A chart as the beginning of another. */
import type { BoardDesign, Machine } from './schema';

/** What was found on one machine says nothing of another: notes, keys, photos and the serial number stay behind. */
export function copyOfMachine(
  { serial: _serial, since: _since, unit: _unit, photos: _photos, pinned: _pinned, ...machine }: Machine,
  as: Pick<Machine, 'id' | 'name'> & Partial<Pick<Machine, 'sort' | 'unit' | 'serial' | 'since'>>,
): Machine {
  return { ...machine, ...as, sort: as.sort || machine.sort, asFound: [], keysAsFound: [] };
}

/** Another design is another board: its photos stay behind. */
export function copyOfDesign(
  { boardPhotos: _photos, boardPinned: _pinned, ...design }: BoardDesign,
  as: { id: string; name: string },
): BoardDesign {
  return { ...design, ...as };
}

/** `Lantern Regatta`, `no. 3` → `lantern-regatta-3`: an address that the schema takes; empty when no letter or digit is left. */
export const idOf = (name: string, unit = ''): string =>
  `${name} ${unit.replace(/^(no|nr|number)\b\.?/i, '')}`
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 64)
    .replace(/-+$/, '');
