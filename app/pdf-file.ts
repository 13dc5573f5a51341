/** A PDF as an answer: who may read it, on which paper, and in words what is wrong when there is none. */
import { headers } from 'next/headers';
import { type Action, can, type Thing } from '@/lib/access/can';
import { actorOf } from '@/lib/access/session';
import { type Paper, readPaper } from '@/lib/print/paper';

export type Pdf = { bytes: Buffer; name: string } | { status: 400 | 404 | 409; message: string };

/** `make` is asked only for who may do this, with a paper that exists; A4 when the address names none. */
export async function pdfResponse(
  request: Request,
  action: Action,
  thing: Thing,
  make: (paper: Paper, query: URLSearchParams) => Promise<Pdf>,
) {
  if (!can(await actorOf(await headers()), action, thing)) return inWords(401, 'Sign in first.');
  return pdfAnswer(request, make);
}

/** The same for whoever asks: rights are asked before. */
export async function pdfAnswer(request: Request, make: (paper: Paper, query: URLSearchParams) => Promise<Pdf>) {
  const query = new URL(request.url).searchParams;
  const paper = readPaper(query.get('paper'));
  if (!paper) return inWords(400, 'paper: there is no such paper. Write paper=a4 or paper=letter.');
  const made = await make(paper, query);
  if ('message' in made) return inWords(made.status, made.message);
  return new Response(new Uint8Array(made.bytes), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${made.name.replace(/[^\w.-]+/g, '-')}"`,
      'cache-control': 'no-store',
    },
  });
}

const inWords = (status: number, message: string) =>
  new Response(message, { status, headers: { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' } });
