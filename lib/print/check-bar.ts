/** The bar that tells whether a sheet was printed at true size. */
import type { Print } from './document';

export const checkBarMm = 50;

export function drawCheckBar(print: Print): void {
  print.figure({ widthMm: checkBarMm + 2, heightMm: 6, alt: `Check bar of ${checkBarMm} mm` }, (pen) => {
    pen.rect(0, 3, checkBarMm, 1.4, { fill: '#1c1b19' });
    for (let mm = 0; mm <= checkBarMm; mm += 5)
      pen.line(
        [
          [mm, mm % 10 === 0 ? 0.6 : 1.8],
          [mm, 3],
        ],
        { stroke: '#1c1b19', width: 0.2 },
      );
  });
  print.paragraph(
    `Print at 100 %, without fitting to the page, and measure this bar: it must be ${checkBarMm} mm long. If it is not, the drawings are not true.`,
    {
      size: 8.5,
    },
  );
}
