/** What a write-up is set from, for the customer and for those who word it. */
import type { ReactNode } from 'react';
import { money } from '@/lib/core/money';
import { pictureUrl } from '@/lib/files/limits';
import { type Copy, sumOf } from '@/lib/notebook/writeup/copy';
import type { SectionId } from '@/lib/notebook/writeup/types';
import { day } from '../words';

/** Name, address and logo, the title, which machine and when. `base` stands before the addresses of pictures. */
export function Head({ copy, base, tools }: { copy: Copy; base?: string; tools?: ReactNode }) {
  const { name, address, logo } = copy.head;
  return (
    <header>
      <div className="letterhead">
        {logo && (
          // biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server
          <img src={pictureUrl(logo.picture, 320, base)} width={logo.width} height={logo.height} alt={`Logo of ${name}`} />
        )}
        <address>
          <b>{name}</b>
          {address.map((line) => (
            <span key={line}>{line}</span>
          ))}
        </address>
      </div>
      <h1>{copy.title}</h1>
      {tools}
      <p className="sub">
        {copy.machine && <span>{copy.machine}</span>}
        <span>{day(copy.on)}</span>
      </p>
    </header>
  );
}

export interface Shown {
  key: string;
  content: ReactNode;
  price?: number | null;
}

/** One part of it; what was done, the parts and the cautions are lists. */
export function Part({ id, name, lines, currency, tool, bare, after }: PartProps) {
  const Row = id === 'done' || id === 'parts' || id === 'cautions' ? 'li' : 'div';
  const rows = lines.map(({ key, content, price }) => (
    <Row key={key} className={currency && price !== undefined ? 'priced' : undefined}>
      {content}
      {currency && price !== undefined && (
        <span className="n">{price === null ? <span className="soft">no price</span> : money(price, currency)}</span>
      )}
    </Row>
  ));
  return (
    <section id={`write-up-${id}`} className={[`write-up-${id}`, bare && 'no-print'].filter(Boolean).join(' ')}>
      <div className="part-head">
        <h2>{name}</h2>
        {tool}
      </div>
      {Row === 'li' && rows.length > 0 ? <ul>{rows}</ul> : rows}
      {after}
    </section>
  );
}
interface PartProps {
  id: SectionId;
  name: string;
  lines: readonly Shown[];
  currency: string | null; // null: without prices
  tool?: ReactNode; // beside its heading
  bare?: boolean; // has nothing for the customer
  after?: ReactNode;
}

/** What it all comes to. */
export function Sum({ copy }: { copy: Copy }) {
  const sum = sumOf(copy);
  if (!sum || copy.currency === null) return null;
  const { total, without } = sum;
  return (
    <p className="write-up-sum">
      <span>
        <b>In all</b>
        {without > 0 && (
          <span className="soft"> without {without === 1 ? 'the line that has' : `the ${without} lines that have`} no price</span>
        )}
      </span>
      <b className="n">{money(total, copy.currency)}</b>
    </p>
  );
}
