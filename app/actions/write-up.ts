'use server';
/** Words lines of the customer's write-up, sends copies of it, and takes their links back. */
import { redirect } from 'next/navigation';
import * as z from 'zod';
import { requireRight } from '@/app/member';
import { loadDraft } from '@/app/write-up';
import { isLongEnough, leastLetters } from '@/lib/access/pass-phrase';
import { revokeReportLink, sendReport, unlockReportLink } from '@/lib/access/reports';
import { readMoney } from '@/lib/core/money';
import { newId } from '@/lib/notebook/ids';
import { addable, isPriced, type SectionId, sectionOf } from '@/lib/notebook/writeup/types';
import { isFixed, ownKey, staleLines } from '@/lib/notebook/writeup/wording';
import { getLetterhead } from '@/lib/store/letterhead';
import { getPage } from '@/lib/store/pages';
import { dropWording, putWording, setPriced, wordingsOf } from '@/lib/store/write-ups';
import type { FormState } from '@/lib/ui/forms';
import { readForm, refused, refusedField } from './read';

const page = z.string().max(64);
/** A browser sends every end of a line as two characters. */
const lines = z.string().transform((text) => text.replaceAll('\r\n', '\n'));
const ground = lines.pipe(z.string().max(20_000));
const key = z
  .string()
  .max(300)
  .refine((text) => sectionOf(text) !== null);
const seen = z.string().max(40);
const back = (to: string, section: SectionId | null) => `/pages/${encodeURIComponent(to)}/write-up${section ? `#write-up-${section}` : ''}`;
const gone = 'This page has been removed. Copy what you wrote if you want to keep it.';
const changed = 'Somebody else worded this line meanwhile. Load this screen again and look once more.';

export async function wordLineAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'create', 'report');
  const words = lines.pipe(z.string().trim().max(2000, 'Keep a line to 2000 characters'));
  const form = readForm(
    data,
    z.object({ page, key, words, price: z.string().default(''), derived: ground, over: ground, overPriced: ground, seen }),
  );
  if (!form.ok) return form.state;
  const { page: of, key: given, words: said, price: typed, derived, over, overPriced, seen: was } = form.value;
  const section = sectionOf(given) as SectionId;
  const add = addable.some((id) => id === given);
  const target = add ? ownKey(section, newId()) : given;
  if (isFixed(section, target)) return refused(data, 'Cautions stay as they are. Add a line of your own beside them.');
  if (said === '' && (section === 'title' || add)) return refusedField(data, 'words', 'Write what the customer is to read');
  const { currency } = await getLetterhead();
  const price = isPriced(section) && typed.trim() !== '' ? readMoney(typed, currency) : null;
  if (price === null && typed.trim() !== '')
    return refusedField(data, 'price', `Write a sum in ${currency}, such as 4.20, or leave it empty for the page’s own price`);
  if (!(await getPage(of))) return refused(data, gone);
  const own = said === derived.trim() ? null : said;
  if (own === null && price === null) {
    if (was !== '' && !(await dropWording(of, target, was))) return refused(data, changed);
    redirect(back(of, section));
  }
  const kept = await putWording({
    page: of,
    key: target,
    words: own,
    price,
    over: price === null ? over : overPriced,
    member: member.id,
    seen: add ? '' : was,
  });
  if (!kept.ok)
    return refused(
      data,
      kept.now
        ? `${kept.now.by} worded this line meanwhile: “${kept.now.words ?? 'as the page has it'}”. Nothing was kept; yours stands below.`
        : changed,
    );
  redirect(back(of, section));
}

/** The words were looked at and still hold over what the page says now. */
export async function stillRightAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'create', 'report');
  const form = readForm(data, z.object({ page, key, over: ground, seen }));
  if (!form.ok) return form.state;
  const { page: of, key: target, over, seen: was } = form.value;
  const wording = (await wordingsOf(of))[target];
  if (!wording) return refused(data, changed);
  const { words, price } = wording;
  const kept = await putWording({ page: of, key: target, words, price, over, member: member.id, seen: was });
  if (!kept.ok) return refused(data, changed);
  redirect(back(of, sectionOf(target)));
}

export async function leaveOutAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'create', 'report');
  const form = readForm(data, z.object({ page, key, over: ground, seen }));
  if (!form.ok) return form.state;
  const { page: of, key: target, over, seen: was } = form.value;
  const section = sectionOf(target) as SectionId;
  if (section === 'title' || isFixed(section, target)) return refused(data, 'This line can’t be left out.');
  if (!(await getPage(of))) return refused(data, gone);
  const kept = await putWording({ page: of, key: target, words: '', price: null, over, member: member.id, seen: was });
  if (!kept.ok) return refused(data, changed);
  redirect(back(of, section));
}

/** Takes wording away: the page's own words stand again, and a line of one's own is gone. */
export async function dropWordingAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'create', 'report');
  const form = readForm(data, z.object({ page, key, seen }));
  if (!form.ok) return form.state;
  const { page: of, key: target, seen: was } = form.value;
  if (!(await dropWording(of, target, was))) return refused(data, changed);
  redirect(back(of, sectionOf(target)));
}

export async function pricesAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'create', 'report');
  const form = readForm(data, z.object({ page, priced: z.enum(['yes', 'no']) }));
  if (!form.ok) return form.state;
  if (!(await getPage(form.value.page))) return refused(data, gone);
  await setPriced(form.value.page, form.value.priced === 'yes');
  redirect(back(form.value.page, 'parts'));
}

export async function sendAction(_: FormState, data: FormData): Promise<FormState> {
  const member = await requireRight('/', 'create', 'report');
  const form = readForm(
    data,
    z.object({
      page,
      days: z.enum(['30', '90', '365'], 'Choose for how long').transform(Number),
      phrase: z
        .string()
        .trim()
        .max(200, 'Keep it under 200 characters')
        .refine((text) => text === '' || isLongEnough(text), `Use at least ${leastLetters} letters or digits, or leave it empty`),
    }),
  );
  if (!form.ok) return form.state;
  const { page: of, days, phrase } = form.value;
  if (!(await getPage(of))) return refused(data, gone);
  const { lines: draft, copy } = await loadDraft(of);
  const stale = staleLines(draft).length;
  if (stale > 0)
    return refused(
      data,
      `${stale === 1 ? 'A line was' : `${stale} lines were`} worded before the facts under it changed. Look at it first.`,
    );
  await sendReport(of, copy, { days, phrase: phrase || null }, member);
  redirect(`/pages/${of}/write-up#sent`);
}

export async function unlockLinkAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'create', 'report');
  const form = readForm(data, z.object({ id: z.string().max(40), page }));
  if (!form.ok) return form.state;
  await unlockReportLink(form.value.page, form.value.id);
  redirect(`/pages/${encodeURIComponent(form.value.page)}/write-up#sent`);
}

export async function unshareAction(_: FormState, data: FormData): Promise<FormState> {
  await requireRight('/', 'remove', 'report');
  const form = readForm(data, z.object({ id: z.string().max(40), page }));
  if (!form.ok) return form.state;
  await revokeReportLink(form.value.page, form.value.id);
  redirect(`/pages/${encodeURIComponent(form.value.page)}/write-up#sent`);
}
