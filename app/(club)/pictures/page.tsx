/** The pictures that a page, a machine or a board design holds: those that it shows, and those of its history. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { pictureUrl } from '@/lib/files/limits';
import { getChart } from '@/lib/store/chart-photos';
import { getPage } from '@/lib/store/pages';
import { type Holder, picturesHeldBy } from '@/lib/store/picture-holders';
import { removedUrl, removedWords } from '@/lib/ui/photo-figure';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'Pictures' };

type Asked = { page?: string; machine?: string; design?: string };

/** What was asked for, with its name and address; anything else is no page of ours. */
async function holderOf({ page, machine, design }: Asked): Promise<{ holder: Holder; title: string; path: string }> {
  if (page) {
    const found = (await getPage(page)) ?? notFound();
    return { holder: { page }, title: found.title, path: `/pages/${page}` };
  }
  const id = machine ?? design ?? notFound();
  const { chart } = (await getChart(machine ? 'machine' : 'design', id)) ?? notFound();
  const title = chart.format === 'fettlebook-machine/1' ? [chart.name, chart.unit].filter(Boolean).join(', ') : `Board design ${id}`;
  return { holder: machine ? { machine } : { design: id }, title, path: `/${machine ? 'machines' : 'designs'}/${id}` };
}

export default async function Pictures({ searchParams }: { searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const member = await requireRight('/', 'remove', 'file');
  const { holder, title, path } = await holderOf(asked);
  const pictures = await picturesHeldBy(holder);
  return (
    <Frame member={member} here={path.startsWith('/pages') ? 'Bench' : 'Machines'} title={`Pictures of ${title}`}>
      <Entry>
        <h1>Pictures of {title}</h1>
        <p className="lead">Those that it shows, and those that were taken out and stand in its history.</p>
        {pictures.length === 0 && <p className="soft">It has none.</p>}
        <ul className="picture-list">
          {pictures.map(({ hash, removedAt, at, by }) => (
            <li key={hash}>
              <a href={`/pictures/${hash}`}>
                {/* biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server */}
                <img
                  src={removedAt ? removedUrl(hash, 320) : pictureUrl(hash, 320)}
                  alt={removedAt ? removedWords : ''}
                  loading="lazy"
                  decoding="async"
                />
                <span>{[by, day(at)].filter(Boolean).join(', ')}</span>
              </a>
            </li>
          ))}
        </ul>
        <div className="actions">
          <LinkButton href={path}>Back</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
