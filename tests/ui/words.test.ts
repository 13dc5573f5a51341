import { expect, test } from 'vitest';
import { localIso, seenWords } from '@/lib/ui/words';

test('a moment on the wall clock is the same moment', () => {
  const moment = new Date('2026-03-14T09:04:12Z');
  expect(localIso(moment, 60)).toBe('2026-03-14T10:04:12+01:00');
  expect(localIso(moment, -210)).toBe('2026-03-14T05:34:12-03:30');
  for (let east = -720; east <= 840; east += 15) expect(Date.parse(localIso(moment, east))).toBe(moment.getTime());
});

test('who saw what, in whole sentences, however the reason was typed', () => {
  const seen = { since: '2019', by: 'Wen Halloran', on: '2024-05-03' };
  const said = 'A burnt run. So since 2019. Wen Halloran, 3 May 2024';
  expect(seenWords({ why: 'A burnt run', ...seen })).toBe(said);
  expect(seenWords({ why: 'A burnt run.', ...seen })).toBe(said);
  expect(seenWords({ why: 'Who knows?', ...seen, since: undefined })).toBe('Who knows? Wen Halloran, 3 May 2024');
});
