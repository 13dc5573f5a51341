/** Labels of pins: beside them where there is room, parted where there is none, and always in the same places. Rules and limits are our own. */
import { expect, test } from 'vitest';
import demo from '@/content/photos/kestrel-post-1.json';
import { type LabelledPin, labelHigh, placeLabels, ring } from '@/lib/ui/pin-labels';

const tall = 1600;
const pin = (x: number, y: number, wide = 68): LabelledPin => ({ x, y, wide });

interface Box {
  what: string;
  left: number;
  top: number;
  right: number;
  bottom: number;
}
/** What a label hides: other labels, the rings of other pins, and what lies beyond the photo. */
function hidden(pins: readonly LabelledPin[]): string[] {
  const labels = placeLabels(pins, tall).map(({ x, y }, k): Box => {
    const { x: px, y: py, wide } = pins[k] as LabelledPin;
    return {
      what: `label ${k}`,
      left: px + x - wide / 2,
      right: px + x + wide / 2,
      top: py + y - labelHigh / 2,
      bottom: py + y + labelHigh / 2,
    };
  });
  const rings = pins.map(({ x, y }, k): Box => ({ what: `ring ${k}`, left: x - ring, right: x + ring, top: y - ring, bottom: y + ring }));
  return labels.flatMap((a, k) => [
    ...[...labels.slice(k + 1), ...rings]
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `${a.what} on ${b.what}`),
    ...(a.left < 0 || a.top < 0 || a.right > 1000 || a.bottom > tall ? [`${a.what} beyond the photo`] : []),
  ]);
}

test('a pin by itself has its label at its right, and at its left by the right edge', () => {
  expect(placeLabels([pin(300, 300)], tall)).toEqual([{ x: 66, y: 0, far: false, hit: 62 }]);
  expect(placeLabels([pin(980, 300)], tall)[0]).toMatchObject({ x: -66, far: false });
  expect(placeLabels([], tall)).toEqual([]);
});

test('no label of the demo photo hides another label or a pin', () => {
  const pins = demo.pinned.map(({ at: [x = 0, y = 0], ...of }) =>
    pin(1000 * x, tall * y, 'load' in of ? 68 + 36 : 68 + 36 * (Number(of.switch) % 3)),
  );
  expect(pins.length).toBeGreaterThan(40);
  expect(hidden(pins)).toEqual([]);
});

test.each<[string, LabelledPin[]]>([
  ['a bank of targets', Array.from({ length: 7 }, (_, k) => pin(300 + 46 * k, 500))],
  ['a column of targets', Array.from({ length: 7 }, (_, k) => pin(500, 300 + 46 * k, 104))],
  ['a cluster', Array.from({ length: 9 }, (_, k) => pin(480 + 60 * (k % 3), 700 + 60 * Math.floor(k / 3)))],
  ['a corner', Array.from({ length: 4 }, (_, k) => pin(30 + 50 * (k % 2), 30 + 50 * Math.floor(k / 2), 104))],
])('%s is parted, and again in the same way', (_, pins) => {
  expect(hidden(pins)).toEqual([]);
  expect(placeLabels(pins, tall)).toEqual(placeLabels(pins, tall));
});

test('a label that finds no room beside its pin stands off, with a line to it', () => {
  const cluster = Array.from({ length: 9 }, (_, k) => pin(480 + 60 * (k % 3), 700 + 60 * Math.floor(k / 3)));
  expect(placeLabels(cluster, tall)[4]).toMatchObject({ far: true });
});

test('a press means the nearest pin: two rings never claim the same place', () => {
  const pins = [pin(300, 300), pin(350, 300), pin(800, 900)];
  const [a, b, c] = placeLabels(pins, tall);
  expect((a?.hit ?? 0) + (b?.hit ?? 0)).toBeLessThanOrEqual(50);
  expect(c?.hit).toBe(62);
});

test('a pile of pins that cannot be parted still gets a label each, inside the photo', () => {
  const pins = Array.from({ length: 100 }, (_, k) => pin(400 + 13 * (k % 10), 700 + 17 * Math.floor(k / 10)));
  expect(placeLabels(pins, tall)).toHaveLength(100);
  expect(hidden(pins).filter((what) => what.includes('beyond'))).toEqual([]);
});
