/** Why a file is not taken, and what to do: said on the device before it is sent, and by the server in any case. */
import { mostBytes } from './limits';
import { type OtherKind, sniff } from './sniff';

export interface Refused {
  ok: false;
  message: string;
  mend: string;
}
export const refuse = (message: string, mend: string): Refused => ({ ok: false, message, mend });
export const millions = (count: number) => Math.ceil(count / 1e6).toLocaleString('en-GB');

const takes = 'Send a photo as JPEG, PNG, WebP, AVIF or GIF.';
const refusals: Record<OtherKind, [message: string, mend: string]> = {
  heic: [
    'This is a HEIC photo, which browsers can’t show',
    'Set the camera to its most compatible format (JPEG), or save the photo as JPEG first.',
  ],
  svg: ['This is an SVG drawing, which can carry scripts', takes],
  html: ['This is a web page', takes],
  pdf: ['This is a PDF', 'Save its page as a picture, or photograph it.'],
  tiff: ['This is a TIFF, which browsers can’t show', 'Save it as JPEG or PNG first.'],
  'moving-avif': ['This picture moves', 'Save one frame of it as JPEG or PNG.'],
  unknown: ['This is no picture that can be read', takes],
};
export const unreadable = refuse(...refusals.unknown);

/** What can be told without decoding; null when nothing speaks against it. */
export function refusalOf(bytes: Uint8Array): Refused | null {
  if (bytes.length > mostBytes)
    return refuse(`This file has ${millions(bytes.length)} MB`, `Send pictures of at most ${millions(mostBytes)} MB.`);
  const kind = sniff(bytes);
  return kind in refusals ? refuse(...refusals[kind as OtherKind]) : null;
}
