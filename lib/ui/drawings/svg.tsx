/** The sheet every figure is drawn on. One unit is one CSS pixel. */
import type { ReactNode } from 'react';

export interface SheetProps {
  width: number;
  height: number;
  /** What the figure shows, in words. Without it the drawing is decoration and hidden from assistive technology. */
  label?: string;
  className?: string;
  /** A group lets what is inside be reached, such as links. */
  role?: 'img' | 'group';
  children: ReactNode;
}

export function Sheet({ width, height, label, className, role = 'img', children }: SheetProps) {
  const size = { viewBox: `0 0 ${round(width)} ${round(height)}`, width: round(width), height: round(height), className };
  if (!label) {
    return (
      <svg {...size} aria-hidden="true">
        {children}
      </svg>
    );
  }
  return (
    <svg {...size} role={role} aria-label={label}>
      {children}
    </svg>
  );
}

/** Two decimals are enough for any line. */
export const round = (n: number) => Math.round(n * 100) / 100;
