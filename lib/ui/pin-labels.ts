/** Where the labels of pins stand: beside their pin while there is room, else further off, with a line to it. Units: a thousandth of the photo's width. */
import { unit } from './photo-marks';

export interface LabelledPin {
  x: number;
  y: number;
  wide: number; // of its label
}
export interface PinLabel {
  x: number; // middle of the label, from its pin
  y: number;
  far: boolean; // a line leads to it
  hit: number; // radius within which a press means this pin
}
interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}
interface Candidate {
  across: number; // of an ellipse around the pin
  down: number;
  gap: number;
  effort: number;
}

export const ring = 20;
export const labelHigh = 54;
const halo = 28;
const widestHit = 62;
const air = 4; // between two labels
const crossed = 2500; // what a line through a label or a ring costs, as an area
const gaps = [0, 40, 80, 130, 190];
const passes = 4;
const reach = 600; // beyond it two pins have nothing to do with each other

/** Beside the pin first, right before left before above and below, and near before far. */
const candidates: readonly Candidate[] = gaps
  .flatMap((gap) =>
    Array.from({ length: 16 }, (_, k): Candidate => {
      const [across, down] = [Math.cos((k * Math.PI) / 8), Math.sin((k * Math.PI) / 8)];
      return { across, down, gap, effort: 12 * gap + 60 * Math.abs(down) + (across < 0 ? 20 : 0) + (down < 0 ? 5 : 0) };
    }),
  )
  .sort((a, b) => a.effort - b.effort);
const beside: Candidate = { across: 1, down: 0, gap: 0, effort: 0 };

const middleOf = ({ wide }: LabelledPin, { across, down, gap }: Candidate) => ({
  x: across * (ring + 12 + gap + wide / 2),
  y: down * (ring + 12 + gap + labelHigh / 2),
});
function boxOf(pin: LabelledPin, candidate: Candidate): Box {
  const { x, y } = middleOf(pin, candidate);
  const [left, top] = [pin.x + x - pin.wide / 2, pin.y + y - labelHigh / 2];
  return { left, top, right: left + pin.wide, bottom: top + labelHigh };
}
const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left) + air) *
  Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) + air);
/** What it costs to hide so much of something: a little is ugly already. */
const hiding = (area: number) => (area > 0 ? 600 + 3 * area : 0);
const areaOf = (box: Box) => (box.right - box.left + air) * (box.bottom - box.top + air);

const along = [0.2, 0.35, 0.5, 0.65, 0.8];
/** Whether the line from a pin to its label passes through a box. */
function passesThrough(pin: LabelledPin, candidate: Candidate, box: Box): boolean {
  if (candidate.gap === 0) return false;
  const { x, y } = middleOf(pin, candidate);
  for (const part of along) {
    const [px, py] = [pin.x + part * x, pin.y + part * y];
    if (px > box.left && px < box.right && py > box.top && py < box.bottom) return true;
  }
  return false;
}

/** A place for each label, so that none hides another or a pin where that can be helped. Same pins, same places. */
export function placeLabels(pins: readonly LabelledPin[], tall: number): PinLabel[] {
  const photo: Box = { left: 0, top: 0, right: unit, bottom: tall };
  const rings = pins.map(({ x, y }): Box => ({ left: x - halo, top: y - halo, right: x + halo, bottom: y + halo }));
  const chosen = pins.map(() => beside);
  const boxes = pins.map((pin) => boxOf(pin, beside));
  const near = pins.map((pin, k) =>
    pins.flatMap((other, j) => (j !== k && Math.abs(other.x - pin.x) < reach && Math.abs(other.y - pin.y) < reach ? [j] : [])),
  );

  /** Stops where it costs `most` already. */
  const costOf = (k: number, pin: LabelledPin, candidate: Candidate, most = Number.POSITIVE_INFINITY): number => {
    const box = boxOf(pin, candidate);
    let cost = candidate.effort + hiding(areaOf(box) - overlap(box, photo)) + hiding(overlap(box, rings[k] as Box));
    for (const j of near[k] ?? []) {
      const [round, label] = [rings[j] as Box, boxes[j] as Box];
      cost += hiding(overlap(box, round)) + hiding(overlap(box, label));
      if (passesThrough(pin, candidate, round) || passesThrough(pin, candidate, label)) cost += crossed;
      if (passesThrough(pins[j] as LabelledPin, chosen[j] as Candidate, box)) cost += crossed;
      if (cost >= most) return cost;
    }
    return cost;
  };
  for (let pass = 0; pass < passes; pass += 1) {
    let moved = false;
    for (const [k, pin] of pins.entries()) {
      let best = { candidate: chosen[k] as Candidate, cost: costOf(k, pin, chosen[k] as Candidate) };
      for (const candidate of candidates) {
        if (candidate.effort >= best.cost) break; // the others cost more by where they are alone
        const cost = costOf(k, pin, candidate, best.cost);
        if (cost < best.cost) best = { candidate, cost };
      }
      if (best.candidate === chosen[k]) continue;
      moved = true;
      chosen[k] = best.candidate;
      boxes[k] = boxOf(pin, best.candidate);
    }
    if (!moved) break;
  }
  return pins.map((pin, k) => {
    const { x, y } = middleOf(pin, chosen[k] as Candidate);
    const free = pins.flatMap((other, j) =>
      j === k ? [] : [Math.hypot(other.x - pin.x, other.y - pin.y) / 2, distance(pin, boxes[j] as Box)],
    );
    const hit = Math.max(ring, Math.min(widestHit, ...free));
    return { x: Math.round(x), y: Math.round(y), far: (chosen[k] as Candidate).gap > 0, hit: Math.round(hit) };
  });
}

const distance = ({ x, y }: LabelledPin, box: Box): number =>
  Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
