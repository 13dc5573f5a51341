/** Pitches as parts print them: 3.96 stands for 3.9624 mm (0.156 in), but 2.5 mm and 2.54 mm do not exchange: 0.44 mm out over twelve positions. */
const rounding = 0.02; // mm

export const samePitch = (a: number, b: number) => Math.abs(a - b) < rounding;
