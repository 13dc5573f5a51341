/** The write-up for those who word it: what the customer will read, and at each line where its words come from and how to change them. */
import { type Copy, captionOf } from '@/lib/notebook/writeup/copy';
import { addable, isPriced, type SectionId, sections } from '@/lib/notebook/writeup/types';
import { type DraftLine, isFixed } from '@/lib/notebook/writeup/wording';
import { PhotoFigure } from '../photo-figure';
import { Head, Part, type Shown, Sum } from './parts';

interface DraftProps {
  page: string;
  copy: Copy;
  lines: readonly DraftLine[];
  words: boolean; // whoever looks may word it
}

export function WriteUpDraft({ page, copy, lines, words }: DraftProps) {
  const of = (id: SectionId) => lines.filter(({ section }) => section === id);
  const tools = (line: DraftLine) => words && !isFixed(line.section, line.key) && <Tools page={page} line={line} />;
  const shown = (line: DraftLine): Shown => ({
    key: line.key,
    content: (
      <div className={`draft-line ${line.standing}${line.stale ? ' stale' : ''}`}>
        <Content line={line} />
        {words && <Said line={line} />}
        {tools(line)}
      </div>
    ),
    ...(isPriced(line.section) && { price: line.standing === 'out' || line.standing === 'gone' ? undefined : line.price }),
  });
  const lastPriced = of('time').length > 0 ? 'time' : 'parts'; // the sum follows it
  return (
    <article className="write-up draft">
      <Head
        copy={copy}
        tools={of('title').map((line) => (
          <div key={line.key} className={line.stale ? 'draft-line stale' : 'draft-line'}>
            {words && <Said line={line} />}
            {tools(line)}
          </div>
        ))}
      />
      {sections.map(({ id, name }) => {
        const own = of(id);
        const unproved = id === 'proof' && own.length === 0;
        if (id === 'title' || (own.length === 0 && !unproved && !(words && addable.includes(id)))) return null;
        return (
          <Part
            key={id}
            id={id}
            name={name}
            currency={copy.currency}
            lines={own.map(shown)}
            bare={!unproved && own.every(({ standing }) => standing === 'out' || standing === 'gone')}
            tool={
              words &&
              addable.includes(id) && (
                <a className="line-tool no-print" href={`/pages/${page}/write-up/line?add=${id}`} aria-label={`Add a line to “${name}”`}>
                  Add a line
                </a>
              )
            }
            after={
              <>
                {unproved && <p className="soft">Not proved yet.</p>}
                {own.length === 0 && !unproved && <p className="soft no-print">Nothing yet; the customer does not see this heading.</p>}
                {id === lastPriced && <Sum copy={copy} />}
              </>
            }
          />
        );
      })}
    </article>
  );
}

function Content({ line }: { line: DraftLine }) {
  if (line.standing === 'gone') return null;
  if (line.standing === 'out')
    return (
      <p className="soft no-print">
        Left out: <s>{line.derived || 'a photo'}</s>
      </p>
    );
  if (!line.photo) return <p>{line.text}</p>;
  return (
    <PhotoFigure photo={line.photo} alt={line.text || 'A photo'}>
      {captionOf({ text: line.text, price: null, photo: line.photo }) || 'A photo'}
    </PhotoFigure>
  );
}

/** Whose words they are, and what changed under them. */
function Said({ line }: { line: DraftLine }) {
  const { wording, standing } = line;
  if (!wording) return null;
  if (!line.stale)
    return <p className="line-said no-print">{standing === 'own' ? `Added by ${wording.by}.` : `Worded by ${wording.by}.`}</p>;
  return (
    <p className="line-said line-stale">
      <b>{standing === 'gone' ? 'The page no longer says this.' : 'The facts changed since this was worded.'}</b>{' '}
      {standing === 'gone' && `${wording.by} had written “${wording.words || 'left out'}”. `}
      {standing === 'own' ? '' : `Then: “${wording.over}”. `}
      {line.now && standing !== 'own' && `Now: “${line.now}”.`}
    </p>
  );
}

function Tools({ page, line }: { page: string; line: DraftLine }) {
  const what = line.stale ? 'Look at it' : line.standing === 'out' ? 'Bring it back' : 'Word it';
  return (
    <a
      className="line-tool no-print"
      href={`/pages/${page}/write-up/line?key=${encodeURIComponent(line.key)}`}
      aria-label={`${what}: ${line.text || line.derived || 'line'}`}
    >
      {what}
    </a>
  );
}
