/** Other people's carets: an ink line and their initials in the gutter, told apart by line style, never by colour. */
import CollaborationCaret from '@tiptap/extension-collaboration-caret';
import type { LivePage } from '@/lib/live/client';

export const initials = (name: string) =>
  name
    .split(/\s+/)
    .filter(Boolean)
    .slice(0, 2)
    .map((w) => w[0]?.toUpperCase() ?? '')
    .join('');

const handOf = (user: Record<string, unknown>) => (typeof user.hand === 'number' ? user.hand % 3 : 0);
const ink = '#1c1b18'; // the library insists on a colour; the look ignores it

export const carets = (live: LivePage, member: { id: string; name: string }) =>
  CollaborationCaret.configure({
    provider: live.provider,
    user: { ...member, color: ink },
    render(user) {
      const caret = document.createElement('span');
      caret.className = `caret hand-${handOf(user)}`;
      caret.title = String(user.name ?? '');
      const tag = document.createElement('i');
      tag.textContent = initials(String(user.name ?? ''));
      tag.contentEditable = 'false';
      caret.append(tag);
      return caret;
    },
    selectionRender: (user) => ({ nodeName: 'span', class: `sel hand-${handOf(user)}` }),
  });
