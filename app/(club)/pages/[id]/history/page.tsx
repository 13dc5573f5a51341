import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { getPage } from '@/lib/store/pages';
import { requireRight } from '../../../../member';
import { AllOfThePast } from './all';
import { loadPast } from './past';
import { OnePoint } from './point';

interface Props {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const page = await getPage((await params).id);
  return { title: page ? `History of ${page.title}` : 'Not here' };
}

/** A page's past: the list of it, or one point of it with what changed. */
export default async function History({ params, searchParams }: Props) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/history`, 'read', 'page');
  const asked = await searchParams;
  const said = (name: string) => (typeof asked[name] === 'string' ? asked[name] : '');
  const { page, stretches } = await loadPast(id);
  const at = said('at') ? numberOf(said('at')) : said('step') ? (stretches[numberOf(said('step')) - 1]?.number ?? notFound()) : null;
  if (at === null) {
    const before = said('before') ? numberOf(said('before')) : Number.POSITIVE_INFINITY;
    return <AllOfThePast member={member} page={page} stretches={stretches} before={before} />;
  }
  const index = stretches.findIndex(({ number }) => number >= at);
  if (index < 0) notFound();
  const newest = stretches.at(-1)?.number ?? 0;
  const against = said('against') === 'now' ? newest : said('against') ? numberOf(said('against')) : null;
  if (against !== null && against > newest) notFound();
  const undo = said('undo') ? numberOf(said('undo')) : null;
  return (
    <OnePoint
      member={member}
      page={page}
      stretches={stretches}
      index={index}
      asked={said('against')}
      against={against}
      whole={said('whole') !== ''}
      undo={undo}
    />
  );
}

/** An entry's number as it stands in an address. */
const numberOf = (text: string) => (/^\d{1,15}$/.test(text) ? Number(text) : notFound());
