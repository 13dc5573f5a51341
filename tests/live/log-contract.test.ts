import { FakeLog } from './helpers';
import { registerLogContract } from './log-contract';

registerLogContract('in memory', async () => {
  const log = new FakeLog();
  let pages = 0;
  return {
    log,
    member: null,
    newPage: async () => {
      const page = `page-${++pages}`;
      log.pages.set(page, []);
      return page;
    },
    close: async () => {},
  };
});
