/** The write-up as the customer reads it. */
import { type Copy, type CopyLine, captionOf } from '@/lib/notebook/writeup/copy';
import { isPriced } from '@/lib/notebook/writeup/types';
import { PhotoFigure } from '../photo-figure';
import { Head, Part, Sum } from './parts';

/** The last part that prices can stand in: their sum follows it. */
const lastPriced = ({ sections }: Copy) => sections.findLast(({ id }) => isPriced(id))?.id;

/** `base` stands before the addresses of pictures: the customer's link. */
export function WriteUpSheet({ copy, base }: { copy: Copy; base?: string }) {
  return (
    <article className="write-up">
      <Head copy={copy} base={base} />
      {copy.sections.map(({ id, name, lines }) => (
        <Part
          key={id}
          id={id}
          name={name}
          currency={copy.currency}
          lines={lines.map((line, at) => ({
            key: String(at),
            content: <Line line={line} base={base} />,
            ...(isPriced(id) && { price: line.price }),
          }))}
          after={id === lastPriced(copy) && <Sum copy={copy} />}
        />
      ))}
    </article>
  );
}

function Line({ line, base }: { line: CopyLine; base?: string }) {
  if (!line.photo) return <p>{line.text}</p>;
  return (
    <PhotoFigure photo={line.photo} alt={line.text} base={base}>
      {captionOf(line)}
    </PhotoFigure>
  );
}
