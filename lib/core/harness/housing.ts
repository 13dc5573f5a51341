/** The housing for a header: exact, or cut down from a longer one. */
import type { Header } from '../chart/schema';
import type { Catalogue, HousingPart, Stock } from '../parts/schema';
import { chooseLength } from './choose-length';
import { lostPerCut, offcut } from './cut';
import { ofRows, pinRows, positionsWords } from './pin-rows';
import { samePitch } from './pitch';
import type { HousingChoice } from './types';

/** What is on hand goes before what must be ordered, then the order of costs of the job plan; `how: 'none'` says the mend. */
export function chooseHousing(header: Header, catalogue: Catalogue, stock: Stock): { choice: HousingChoice; housing: HousingPart | null } {
  const housings = catalogue.parts.filter((p): p is HousingPart => p.kind === 'housing');
  const ofPitch = ofRows(
    housings.filter((p) => samePitch(p.pitchMm, header.pitchMm)),
    header,
  );
  const found = chooseLength(ofPitch, header.positions, stock);
  if (!found) return { housing: null, choice: { how: 'none', ...noHousing(header.id, header, housings) } };
  const { part, cut, onHand } = found;
  const named = { part: part.id, name: part.name, positions: header.positions };
  if (cut === null) return { housing: part, choice: onHand > 0 ? { how: 'exact', ...named, onHand } : { how: 'order', ...named } };
  const lost = lostPerCut[cut];
  return {
    housing: part,
    choice: { how: 'cut', ...named, from: part.positions, lost, offcut: offcut([header.positions], part.positions, lost), onHand, cut },
  };
}

/** Why no housing of the catalogue serves the connector called `id`, and the mend. */
export function noHousing(id: string, header: Header, housings: readonly HousingPart[]): { message: string; mend: string } {
  const ofPitch = housings.filter((p) => samePitch(p.pitchMm, header.pitchMm));
  const wanted = `${positionsWords(header)} at ${header.pitchMm} mm`;
  const message = `No housing for ${id}, ${wanted}, is in the catalogue.`;
  if (ofPitch.length === 0) {
    const pitches = [...new Set(housings.map((p) => p.pitchMm))].sort((a, b) => a - b);
    const there = pitches.length > 0 ? `Those there have ${pitches.join(', ')} mm, which does not mate. ` : '';
    return { message, mend: `${there}Add a housing of ${header.pitchMm} mm to the catalogue.` };
  }
  const same = ofRows(ofPitch, header);
  const two = pinRows(header) === 2;
  if (same.length === 0) {
    const there = two
      ? 'Those of this pitch have one row, which leaves the other row of pins bare.'
      : 'Those of this pitch have two rows, which do not go on one row of pins.';
    return {
      message,
      mend: `${there} Add a housing of ${header.positions} positions in ${two ? 'two rows' : 'one row'} to the catalogue.`,
    };
  }
  if (two) {
    const lengths = [...new Set(same.map((p) => p.positions))].sort((a, b) => a - b).join(', ');
    return { message, mend: `Those of two rows have ${lengths}, and are not cut. Add one of ${header.positions} positions in two rows.` };
  }
  const most = Math.max(...same.map((p) => p.positions));
  const there =
    most < header.positions ? `The longest of this pitch has ${most}.` : 'The longer ones of this pitch are marked as not to be cut.';
  return { message, mend: `${there} Add one of ${header.positions} positions, or a longer one that can be cut.` };
}
