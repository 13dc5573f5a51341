import type { Metadata } from 'next';
import { inviteAction, makeTokenAction, removeMemberAction, revokeInviteAction, revokeTokenAction, roleAction } from '@/app/actions/club';
import { setThesaurusAction } from '@/app/actions/thesaurus';
import { can, roles } from '@/lib/access/can';
import { listTokens } from '@/lib/access/tokens';
import { asLines, clubGroups } from '@/lib/search/thesaurus';
import { listInvites } from '@/lib/store/invites';
import { listMembers } from '@/lib/store/members';
import { ActionForm } from '@/lib/ui/forms';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { clubName } from '../../club';
import { requireMember } from '../../member';
import { Frame } from '../frame';
import { LetterheadForm } from './letterhead';

export const metadata: Metadata = { title: 'The club' };
const roleOptions = roles.map((r) => ({ value: r, label: r }));

export default async function Club({ searchParams }: { searchParams: Promise<{ trouble?: string }> }) {
  const { trouble = '' } = await searchParams;
  const member = await requireMember('/club');
  const owner = can(member, 'manage', 'member');
  const writes = can(member, 'write', 'page');
  const [club, members, invites, tokens, groups] = await Promise.all([
    clubName(),
    listMembers(),
    owner ? listInvites() : [],
    listTokens(member),
    writes ? clubGroups() : [],
  ]);
  return (
    <Frame member={member} here="Club" title={club}>
      <Entry>
        <h1>{club}</h1>
        <form action="/sign-out" method="post" className="actions" data-sign-out="">
          <p className="soft">
            You are {member.name}, {member.role}.
          </p>
          <button type="submit" className="btn">
            Sign out
          </button>
          <noscript>
            <p className="soft">What this device has not sent yet stays on it, and is sent when you sign in here again.</p>
          </noscript>
        </form>
        <Widget title="Members" id="members">
          <ul className="rows">
            {members.map((m) => (
              <li key={m.id}>
                <span>
                  <b>{m.name}</b> <span className="soft">{m.email}</span>
                </span>
                {owner && m.id !== member.id ? (
                  <>
                    <ActionForm
                      action={roleAction}
                      submit="Set role"
                      quiet
                      fields={[
                        { name: 'member', label: '', type: 'hidden', value: m.id },
                        { name: 'role', label: `Role of ${m.name}`, type: 'select', value: m.role, options: roleOptions },
                      ]}
                    />
                    <ActionForm
                      action={removeMemberAction}
                      submit={`Remove ${m.name}`}
                      quiet
                      fields={[{ name: 'member', label: '', type: 'hidden', value: m.id }]}
                    />
                  </>
                ) : (
                  <span>{m.role}</span>
                )}
              </li>
            ))}
          </ul>
        </Widget>
        {owner && (
          <Widget title="Invite somebody" id="invite">
            <p className="soft">Makes a link that works once, for seven days. Pass it on yourself; no mail is sent.</p>
            <ActionForm
              action={inviteAction}
              submit="Make an invite link"
              fields={[{ name: 'role', label: 'As', type: 'select', value: 'editor', options: roleOptions }]}
            />
            {invites.length > 0 && (
              <ul className="rows">
                {invites.map((i) => (
                  <li key={i.id}>
                    <span>
                      {i.role}, until {day(i.expiresAt)}
                    </span>
                    <ActionForm
                      action={revokeInviteAction}
                      submit="Take it back"
                      quiet
                      fields={[{ name: 'invite', label: '', type: 'hidden', value: i.id }]}
                    />
                  </li>
                ))}
              </ul>
            )}
          </Widget>
        )}
        {can(member, 'manage', 'club') && <LetterheadForm trouble={trouble} />}
        {can(member, 'manage', 'club') && (
          <Widget title="Take it with you" id="archive">
            <p className="soft">
              Everything in one ZIP file of open formats: pages, charts, pictures, parts, stock and thesaurus, with the names of those who
              wrote. No passwords, tokens or addresses. <a href="/help#archive">What is in it</a>.
            </p>
            <p className="actions">
              <LinkButton href="/club/archive">Take the whole club away</LinkButton>
              <LinkButton href="/club/import">Bring an archive in</LinkButton>
            </p>
          </Widget>
        )}
        <Widget title="Access tokens" id="tokens">
          <p className="soft">
            For scripts and other tools of yours: they ask the same questions as these screens. <a href="/help">How to use one</a>.
          </p>
          <ActionForm
            action={makeTokenAction}
            submit="Make a token"
            fields={[{ name: 'name', label: 'What for', hint: 'So that you know later which one to take back.', required: true }]}
          />
          {tokens.length > 0 && (
            <ul className="rows">
              {tokens.map((t) => (
                <li key={t.id}>
                  <span>
                    <b>{t.name}</b> <span className="soft">since {day(t.createdAt)}</span>
                  </span>
                  <ActionForm
                    action={revokeTokenAction}
                    submit={`Take back ${t.name}`}
                    quiet
                    fields={[{ name: 'token', label: '', type: 'hidden', value: t.id }]}
                  />
                </li>
              ))}
            </ul>
          )}
        </Widget>
        {writes && (
          <Widget title="Words that mean the same" id="words">
            <p className="soft">
              A search for one of them finds the others too. One group a line, its words between commas. Every page is read again with them.
            </p>
            <details>
              <summary>
                {groups.length} groups, such as {groups[0]?.slice(0, 3).join(', ')}
              </summary>
              <ActionForm
                action={setThesaurusAction}
                submit="Keep these words"
                fields={[{ name: 'lines', label: 'Groups of words', type: 'area', value: asLines(groups), required: true }]}
              />
            </details>
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
