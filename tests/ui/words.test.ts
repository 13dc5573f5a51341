import { expect, test } from 'vitest';
import { localIso } from '@/lib/ui/words';

test('a moment on the wall clock is the same moment', () => {
  const moment = new Date('2026-03-14T09:04:12Z');
  expect(localIso(moment, 60)).toBe('2026-03-14T10:04:12+01:00');
  expect(localIso(moment, -210)).toBe('2026-03-14T05:34:12-03:30');
  for (let east = -720; east <= 840; east += 15) expect(Date.parse(localIso(moment, east))).toBe(moment.getTime());
});
