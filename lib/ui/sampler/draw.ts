/** Draws the picture with its marks, and the loupe above the thumb. */
import type { Spot } from '@/lib/core/wire';
import type { Picture } from './read-picture';
import { type SpotKind, type Spots, spotKinds, spotNames, spotRadius } from './spots';

const loupe = { radius: 60, lift: 96, zoom: 5 }; // CSS px, CSS px, times the picture as shown
const [ink, halo] = ['#1c1b18', '#ffffff']; // on a photo, by day and by night

/** `pxPerCss`: px of the picture in one CSS px as it is shown. */
export function drawSheet(
  to: CanvasRenderingContext2D,
  { canvas }: Picture,
  spots: Spots,
  at: Spot | null,
  kind: SpotKind,
  pxPerCss: number,
): void {
  to.clearRect(0, 0, canvas.width, canvas.height);
  to.drawImage(canvas, 0, 0);
  for (const each of spotKinds) {
    const spot = spots[each];
    if (spot) drawMark(to, spot, spotNames[each].letter, Math.max(spotRadius[each], 5 * pxPerCss), pxPerCss);
  }
  if (at) drawLoupe(to, canvas, at, kind, pxPerCss);
}

function ring(to: CanvasRenderingContext2D, { x, y }: Spot, radius: number, width: number): void {
  for (const [colour, line] of [
    [halo, 3 * width],
    [ink, width],
  ] as const) {
    to.beginPath();
    to.arc(x, y, radius, 0, 2 * Math.PI);
    to.lineWidth = line;
    to.strokeStyle = colour;
    to.stroke();
  }
}

function drawMark(to: CanvasRenderingContext2D, spot: Spot, letter: string, radius: number, pxPerCss: number): void {
  ring(to, spot, radius + 2 * pxPerCss, 1.5 * pxPerCss);
  to.font = `700 ${18 * pxPerCss}px sans-serif`;
  to.textBaseline = 'middle';
  to.lineJoin = 'round';
  to.lineWidth = 5 * pxPerCss;
  to.strokeStyle = halo;
  to.fillStyle = ink;
  const x = spot.x + radius + 6 * pxPerCss;
  to.strokeText(letter, x, spot.y);
  to.fillText(letter, x, spot.y);
}

/** Where the loupe stands: above the spot, or beside it where there is no room above; never outside of the picture. */
export function loupeAt(spot: Spot, size: { width: number; height: number }, pxPerCss: number): Spot {
  const [radius, lift] = [loupe.radius * pxPerCss, loupe.lift * pxPerCss];
  const within = (v: number, most: number) => Math.min(Math.max(v, radius), Math.max(radius, most - radius));
  if (spot.y - lift - radius >= 0) return { x: within(spot.x, size.width), y: spot.y - lift };
  return { x: within(spot.x < size.width / 2 ? spot.x + lift : spot.x - lift, size.width), y: within(spot.y, size.height) };
}

function drawLoupe(to: CanvasRenderingContext2D, canvas: HTMLCanvasElement, spot: Spot, kind: SpotKind, pxPerCss: number): void {
  const at = loupeAt(spot, canvas, pxPerCss);
  const radius = loupe.radius * pxPerCss;
  const half = radius / loupe.zoom;
  to.save();
  to.beginPath();
  to.arc(at.x, at.y, radius, 0, 2 * Math.PI);
  to.fillStyle = halo;
  to.fill();
  to.clip();
  to.imageSmoothingEnabled = false; // what is read are pixels
  to.drawImage(canvas, spot.x - half, spot.y - half, 2 * half, 2 * half, at.x - radius, at.y - radius, 2 * radius, 2 * radius);
  to.restore();
  ring(to, at, radius, 2 * pxPerCss);
  ring(to, at, spotRadius[kind] * loupe.zoom, pxPerCss);
}
