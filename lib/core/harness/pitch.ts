/** Pitches as parts print them: 3.96 stands for 3.9624 mm (0.156 in), but 2.5 mm and 2.54 mm do not exchange: 0.44 mm out over twelve positions. */
const rounding = 0.02; // mm

export const samePitch = (a: number, b: number) => Math.abs(a - b) < rounding;

/** The pitch a part is made to, for drawing at true size: 0.156 in is printed as 3.96 mm, and over thirty positions that is 0.07 mm. */
export const truePitchMm = (printed: number): number => (printed === 3.96 ? 0.156 * 25.4 : printed);
