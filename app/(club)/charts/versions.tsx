/** The saved states of a chart: who, when, what changed in words; two of them to compare, one to bring back. */
import { can } from '@/lib/access/can';
import { changesInShort } from '@/lib/core/chart/change-words';
import { chartHistory } from '@/lib/store/charts';
import { momentOf } from '@/lib/ui/history-words';
import { Button, Entry, LinkButton } from '@/lib/ui/shell';
import { requireMember } from '../../member';
import { Frame } from '../frame';
import { type ChartScreen, chartScreen, othersOf } from './kinds';

const shown = 60; // versions

export async function Versions({ kind, id }: Pick<ChartScreen, 'kind' | 'id'>) {
  const screen = await chartScreen(kind, id);
  const member = await requireMember(`${screen.path}/versions`);
  const [versions, others] = await Promise.all([chartHistory(kind, id, shown), othersOf(screen)]);
  const mayWrite = can(member, 'write', 'machine');
  const newest = versions[0]?.version ?? 1;
  const compare = `${screen.path}/versions/compare`;
  return (
    <Frame member={member} here="Machines" title="Versions">
      <Entry>
        <h1>Versions of {screen.title}</h1>
        <p className="lead">
          Every saved state of {kind === 'machine' ? 'this machine’s chart' : 'this board design'} is kept.{' '}
          <a href={screen.path}>As it is now</a>
        </p>
        <ol className="chart-versions">
          {versions.map((v) => (
            <li key={v.version} id={`v${v.version}`}>
              <div>
                <b>Version {v.version}</b>{' '}
                <span className="soft">
                  {v.member?.name ?? 'The notebook itself'}, <time dateTime={v.at}>{momentOf(v)}</time>
                  {v.version === newest && ', as it is now'}
                </span>
                <p>{v.first ? 'Put in.' : v.changes.length > 0 ? `${changesInShort(v.changes)}.` : 'The same as before.'}</p>
              </div>
              <div className="actions">
                {!v.first && <LinkButton href={`${compare}?from=${v.version - 1}&to=${v.version}`}>What changed</LinkButton>}
                {mayWrite && v.version !== newest && (
                  <LinkButton href={`${screen.path}/versions/restore?version=${v.version}`}>Bring back</LinkButton>
                )}
              </div>
            </li>
          ))}
        </ol>
        {newest > shown && <p className="soft">Older ones: ask the programming interface, which lists all of them.</p>}
        <h2 className="section-head">Compare</h2>
        {versions.length > 1 && (
          <form className="compare" action={compare}>
            <VersionChoice name="from" label="Version" versions={versions.map((v) => v.version)} chosen={newest - 1} />
            <VersionChoice name="to" label="with version" versions={versions.map((v) => v.version)} chosen={newest} />
            <Button type="submit">Compare</Button>
          </form>
        )}
        {others.length > 0 && (
          <form className="compare" action={compare}>
            <p className="form-field">
              <label htmlFor="with">{kind === 'machine' ? 'This machine with' : 'This design with'}</label>
              <select id="with" name="with">
                {others.map((o) => (
                  <option key={o.id} value={o.id}>
                    {o.title}
                  </option>
                ))}
              </select>
            </p>
            <Button type="submit">Compare</Button>
          </form>
        )}
        <div className="actions">
          {kind === 'machine' && <LinkButton href={`${compare}?with=design`}>Compare with its board design</LinkButton>}
          {mayWrite && (
            <LinkButton href={`${screen.path}/copy`}>{kind === 'machine' ? 'Copy this machine' : 'Copy this design'}</LinkButton>
          )}
        </div>
      </Entry>
    </Frame>
  );
}

function VersionChoice({ name, label, versions, chosen }: { name: string; label: string; versions: number[]; chosen: number }) {
  return (
    <p className="form-field">
      <label htmlFor={name}>{label}</label>
      <select id={name} name={name} defaultValue={chosen}>
        {versions.map((v) => (
          <option key={v} value={v}>
            {v}
          </option>
        ))}
      </select>
    </p>
  );
}
