/** Links to the same PDF on each paper. */
const papers = { a4: 'A4', letter: 'Letter' };

export function PaperLinks({ label, href }: { label: string; href: string }) {
  return (
    <fieldset className="actions paper-links no-print" aria-label={label}>
      <span>{label}</span>
      {Object.entries(papers).map(([paper, name]) => (
        <a key={paper} className="btn" href={`${href}?paper=${paper}`} aria-label={`${label}, ${name}, PDF`}>
          {name}
        </a>
      ))}
    </fieldset>
  );
}
