/** What a new account is asked for. */
import type { FieldSpec } from '@/lib/ui/forms';

export const accountFields: FieldSpec[] = [
  { name: 'name', label: 'Your name', autoComplete: 'name', required: true },
  {
    name: 'email',
    label: 'E-mail',
    type: 'email',
    autoComplete: 'username',
    hint: 'You sign in with it. No mail is ever sent.',
    required: true,
  },
  { name: 'password', label: 'Password', type: 'password', autoComplete: 'new-password', hint: 'Ten characters or more.', required: true },
];
