/** Our own mark and the few signs that stand beside words, never instead of them. */

const pair = (d: string) => (
  <>
    <path d={d} fill="none" stroke="var(--ink)" strokeWidth={6} />
    <path d={d} fill="none" stroke="var(--verdigris)" strokeWidth={2} />
  </>
);

/** Two wires that make an F. */
export function BookMark() {
  return (
    <svg width="34" height="22" viewBox="0 0 34 22" aria-hidden="true">
      {pair('M2 20V9q0-6 6-6h14')}
      {pair('M2 13h14')}
      <path d="M22 1.4h9M22 4.6h7M16 11.4h7M16 14.6h5" stroke="var(--wire-metal)" strokeWidth={1.6} />
    </svg>
  );
}

const signs = {
  saved: 'M2 9.5l4.5 5L16 3',
  connecting: 'M2 9.5l4.5 5',
  saving: 'M2 9.5l4.5 5',
  reading: 'M1.5 9Q9 1.5 16.5 9Q9 16.5 1.5 9z',
  offline: 'M1 9h4M13 9h4M6.5 4.5v9M11.5 4.5v9',
  refused: 'M3 3l12 12M15 3L3 15',
} as const;
export type SaveState = keyof typeof signs;

export function SaveIcon({ state }: { state: SaveState }) {
  return (
    <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true" fill="none" stroke="var(--ink)" strokeWidth={2}>
      <path d={signs[state]} />
      {(state === 'saving' || state === 'connecting') && <path d="M6.5 14.5L16 3" strokeDasharray="2 3" />}
      {state === 'reading' && <circle cx="9" cy="9" r="2.6" fill="var(--ink)" stroke="none" />}
    </svg>
  );
}

/** Warning triangle: with a flash for electricity, with a stroke for anything else. Beside words only. */
export function CautionSign({ electric }: { electric: boolean }) {
  return (
    <svg className="sign" width="46" height="42" viewBox="0 0 46 42" aria-hidden="true">
      <path d="M23 3L43.5 39h-41z" fill="var(--caution)" stroke="var(--ink)" strokeWidth={2.5} strokeLinejoin="round" />
      {electric ? (
        <path d="M25.5 12l-7 12h6l-3 10 8-13h-6z" fill="var(--caution-ink)" />
      ) : (
        <path d="M21 14h4l-.8 12h-2.4zM21 29h4v4h-4z" fill="var(--caution-ink)" />
      )}
    </svg>
  );
}

/** The box of a tick, empty or ticked. */
export function BoxIcon({ on }: { on: boolean }) {
  return (
    <svg width="30" height="30" viewBox="0 0 30 30" aria-hidden="true" fill="none" stroke="var(--ink)">
      <rect x="2" y="2" width="26" height="26" rx="2" fill="var(--paper)" strokeWidth={on ? 1.5 : 2} />
      {on && <path d="M8 15.5l5 6L23 8" strokeWidth={3} />}
    </svg>
  );
}
