'use client';
/** The picture to touch: by thumb with a loupe above it, by mouse, or with arrow keys and Enter. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import { labOfLight, type Spot, sampleSpot, similarColours } from '@/lib/core/wire';
import { drawSheet } from './draw';
import type { Picture } from './read-picture';
import { type SpotKind, type Spots, spotNames, spotRadius } from './spots';

interface Props {
  id: string;
  picture: Picture;
  spots: Spots;
  kind: SpotKind; // what the next touch marks
  onMark: (spot: Spot) => void;
}
const steps: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const [stride, fine] = [10, 1]; // px of the picture

export function PictureSheet({ id, picture, spots, kind, onMark }: Props) {
  const sheet = useRef<HTMLCanvasElement>(null);
  const [at, setAt] = useState<Spot | null>(null);
  const { width, height } = picture.canvas;

  useEffect(() => {
    const canvas = sheet.current;
    const context = canvas?.getContext('2d', { colorSpace: 'srgb' });
    if (!canvas || !context) return;
    const draw = () => drawSheet(context, picture, spots, at, kind, width / Math.max(1, canvas.clientWidth));
    draw();
    const resized = new ResizeObserver(draw);
    resized.observe(canvas);
    return () => resized.disconnect();
  }, [picture, spots, at, kind, width]);

  const within = ({ x, y }: Spot): Spot => ({ x: Math.min(Math.max(x, 0), width - 1), y: Math.min(Math.max(y, 0), height - 1) });
  const spotOf = (event: PointerEvent): Spot => {
    const box = (sheet.current ?? event.currentTarget).getBoundingClientRect();
    return within({ x: ((event.clientX - box.left) / box.width) * width, y: ((event.clientY - box.top) / box.height) * height });
  };
  const press = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const step = steps[event.key];
    const here = at ?? spots[kind] ?? { x: width / 2, y: height / 2 };
    if (step) {
      const by = event.shiftKey ? fine : stride;
      setAt(within({ x: here.x + step[0] * by, y: here.y + step[1] * by }));
    } else if (event.key === 'Enter' || event.key === ' ') onMark(here);
    else return;
    event.preventDefault();
  };
  return (
    <>
      <div
        className="sampler-sheet"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: as an application it takes the arrow keys itself
        tabIndex={0}
        aria-label={`Picture: mark ${spotNames[kind].name.toLowerCase()}`}
        aria-describedby={`${id}-keys`}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          setAt(spotOf(event));
        }}
        onPointerMove={(event) => setAt(spotOf(event))}
        onPointerUp={(event) => {
          onMark(spotOf(event));
          setAt(null);
        }}
        onPointerCancel={() => setAt(null)}
        onPointerLeave={() => setAt(null)}
        onKeyDown={press}
        onBlur={() => setAt(null)}
      >
        <canvas ref={sheet} width={width} height={height} />
      </div>
      <p className="note soft" id={`${id}-keys`}>
        Hold and move for the loupe; it counts where you let go. With keys: arrows move (with Shift finely), Enter marks.
      </p>
      <p className="sampler-under note" role="status">
        {at ? `Under the loupe: ${nameAt(picture, at, kind, spots)}` : ' '}
      </p>
    </>
  );
}

/** The nearest name of the table, seen relative to the white spot as soon as there is one. */
function nameAt({ pixels }: Picture, at: Spot, kind: SpotKind, spots: Spots): string {
  const white = kind !== 'white' && spots.white ? sampleSpot(pixels, spots.white, spotRadius.white) : null;
  const sample = sampleSpot(pixels, at, spotRadius[kind]);
  const lab = sample && (labOfLight(sample.light, white?.light) ?? labOfLight(sample.light));
  return (lab && similarColours(lab)[0]?.name) || 'nothing';
}
