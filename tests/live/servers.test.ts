/** Two servers on one log: their people are on one page. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { closeSignedOut, closeUnknownPage, messageSaved, messageSync, readSaved } from '@/lib/live/protocol';
import type { LogEntry } from '@/lib/store/types';
import { FakeLine } from './fake-line';
import { erase, FakeLog, type House, startHouse, textOf, until, write } from './helpers';

let log: FakeLog;
let line: FakeLine;
let nodes: ReturnType<FakeLine['node']>[];
let houses: House[];
let here: House;
let there: House;

async function start(restMs?: number) {
  const node = line.node(log);
  nodes.push(node);
  const house = await startHouse(log, 60_000, 0, { bus: node.bus, through: node.through, ...(restMs !== undefined && { restMs }) });
  houses.push(house);
  return house;
}
beforeEach(async () => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  log = new FakeLog('page');
  line = new FakeLine();
  nodes = [];
  houses = [];
  here = await start();
  there = await start();
});
afterEach(async () => {
  log.fails = () => false;
  log.failsToLoad = () => false;
  log.commits.lift();
  log.loads.lift();
  for (const house of houses) await house.stop();
  vi.restoreAllMocks();
});

const saved = (page: ReturnType<House['open']>) => page.saved.getSnapshot().state === 'saved';
async function both() {
  const [ada, ben] = [here.open('page', 'ada'), there.open('page', 'ben')];
  await until('both open', () => saved(ada) && saved(ben));
  return { ada, ben };
}

it('what one writes the other sees, deletes too, and the log has each word once', async () => {
  const { ada, ben } = await both();
  write(ada.doc, 'from here, ');
  await until('seen there', () => textOf(ben.doc) === 'from here, ');
  write(ben.doc, 'from there');
  await until('seen here', () => textOf(ada.doc) === 'from here, from there');
  erase(ben.doc, 0, 5);
  await until('seen here', () => textOf(ada.doc) === 'here, from there');
  await until('both saved', () => saved(ada) && saved(ben));
  expect(log.text('page')).toBe('here, from there');
  expect(log.pages.get('page')!.map((entry) => entry.member)).toEqual(['ada', 'ben', 'ben']);
});

it('a server that is alone with its page reads the log once, however much is written', async () => {
  const ada = here.open('page', 'ada');
  await until('open', () => saved(ada));
  for (let i = 0; i < 20; i++) {
    write(ada.doc, 'x');
    await until('saved', () => log.text('page').length === i + 1);
  }
  expect(log.reads).toBe(1);
});

it('what is heard during one read goes into the next, and old news reads nothing', async () => {
  const { ada, ben } = await both();
  const reads = log.reads;
  log.loads.shut();
  for (let i = 0; i < 30; i++) {
    write(ada.doc, String(i % 10));
    await until('in the log', () => log.pages.get('page')!.length === i + 1);
  }
  log.loads.lift();
  await until('seen there', () => textOf(ben.doc) === textOf(ada.doc));
  const used = log.reads - reads;
  expect(used).toBeLessThanOrEqual(2);
  nodes[0]!.bus.send({ kind: 'log', page: 'page', number: 3 });
  nodes[0]!.bus.send({ kind: 'log', page: 'page', number: 30 });
  nodes[0]!.bus.send({ kind: 'log', page: 'elsewhere', number: 1 });
  await new Promise((resolve) => setImmediate(resolve));
  expect(log.reads - reads).toBe(used);
});

it('a rumour of entries that the log does not have is looked into once', async () => {
  const ben = there.open('page', 'ben');
  await until('open', () => saved(ben));
  const reads = log.reads;
  nodes[0]!.bus.send({ kind: 'log', page: 'page', number: 99 });
  await until('looked', () => log.reads === reads + 1);
  write(ben.doc, 'on');
  await until('saved', () => saved(ben) && log.text('page') === 'on');
  expect(log.reads).toBe(reads + 1);
});

it('entries of both between each other: each server reads only what it lacks', async () => {
  const { ada, ben } = await both();
  log.commits.shut();
  write(ada.doc, 'a');
  write(ben.doc, 'b');
  await until('both asked', () => log.appends === 2);
  log.commits.lift();
  await until('alike', () => saved(ada) && saved(ben) && textOf(ada.doc) === textOf(ben.doc) && textOf(ada.doc).length === 2);
  expect(log.text('page')).toBe(textOf(ada.doc));
});

it('those who follow are told that it is saved', async () => {
  await both();
  const raw = await there.raw('page', 'cleo').greeted();
  const ada = here.open('page', 'ada');
  await until('open', () => saved(ada));
  write(ada.doc, 'word');
  const vectorsTold = () => raw.of(messageSaved).some((d) => readSaved(d).vector.length > 1);
  await until('told', vectorsTold);
});

it('a line that was lost: nothing is seen meanwhile, everything after', async () => {
  const { ada, ben } = await both();
  nodes[1]!.cut();
  write(ada.doc, 'unheard');
  await until('saved', () => saved(ada) && log.text('page') === 'unheard');
  write(ben.doc, 'x'); // own work goes on, and its number shows the gap
  await until('seen', () => textOf(ben.doc).includes('unheard'));
  write(ada.doc, ' again');
  await until('saved', () => saved(ada) && log.text('page').includes('again'));
  expect(textOf(ben.doc)).not.toContain('again');
  nodes[1]!.mend();
  await until('seen there', () => textOf(ben.doc) === textOf(ada.doc));
});

describe('a read of what others wrote that fails', () => {
  for (const times of [1, 3]) {
    it(`${times} times is tried again`, async () => {
      const { ada, ben } = await both();
      const first = log.reads + 1;
      log.failsToLoad = (n) => n < first + times;
      write(ada.doc, 'x');
      await until('seen there', () => textOf(ben.doc) === 'x');
      expect(log.reads).toBe(first + times);
    });
  }
  it('for ever keeps nobody from working and saving; all is seen when it works again', async () => {
    const { ada, ben } = await both();
    log.failsToLoad = () => true;
    write(ada.doc, 'a');
    write(ben.doc, 'b');
    await until('both saved', () => saved(ada) && saved(ben) && log.text('page').length === 2);
    write(ben.doc, 'c');
    await until('saved', () => saved(ben) && log.text('page').length === 3);
    expect(textOf(ada.doc)).toBe('a');
    log.failsToLoad = () => false;
    await until('alike', () => textOf(ada.doc) === textOf(ben.doc) && textOf(ada.doc) === log.text('page'));
  });
});

it('an entry that cannot be applied makes the room start again from the log; nobody loses a word', async () => {
  const { ada, ben } = await both();
  write(ben.doc, 'mine ');
  await until('seen', () => textOf(ada.doc) === 'mine ');
  const doc = await there.live.read('page', (d) => d);
  doc.once('beforeTransaction', () => {
    throw new Error('half-way');
  });
  write(ada.doc, 'theirs');
  await until('seen there', () => textOf(ben.doc) === 'mine theirs');
  write(ben.doc, '!');
  await until('seen here', () => textOf(ada.doc) === 'mine theirs!' && saved(ben));
  expect(await there.live.read('page', textOf)).toBe('mine theirs!');
});

it('an entry that builds on something that is not there is not passed over', async () => {
  const { ada, ben } = await both();
  write(ada.doc, 'one ');
  await until('seen', () => textOf(ben.doc) === 'one ');
  const load = log.load.bind(log);
  // A read that leaves out an entry, as a log never should.
  vi.spyOn(log, 'load').mockImplementationOnce(async (page, after) => {
    const loaded = await load(page, after);
    return { ...loaded, tail: loaded.tail.slice(1) };
  });
  nodes[1]!.cut();
  write(ada.doc, 'two ');
  await until('saved', () => saved(ada) && log.pages.get('page')!.length === 2);
  write(ada.doc, 'three');
  await until('saved', () => saved(ada) && log.pages.get('page')!.length === 3);
  nodes[1]!.mend();
  await until('seen there', () => textOf(ben.doc) === 'one two three');
});

describe('a page that is removed', () => {
  it('over there closes here', async () => {
    const [raw, rita] = [await here.raw('page', 'ada').greeted(), here.open('page', 'rita')];
    log.pages.delete('page');
    there.live.closePage('page');
    expect(await raw.end()).toBe(closeUnknownPage);
    await until('refused', () => rita.saved.getSnapshot().state === 'refused');
    expect(rita.saved.getSnapshot().reason).toContain('removed');
    expect(here.live.counts()).toMatchObject({ rooms: 0 });
  });
  it('without a word: the next edit closes it and is not tried for ever', async () => {
    const ada = here.open('page', 'ada');
    await until('open', () => saved(ada));
    log.pages.delete('page');
    write(ada.doc, 'too late');
    await until('refused', () => ada.saved.getSnapshot().state === 'refused');
    expect(ada.saved.getSnapshot().reason).toContain('removed');
    await until('forgotten', () => here.live.counts().rooms === 0);
    expect(here.live.counts().unsavedBytes).toBe(0);
    const appends = log.appends;
    await new Promise((resolve) => setTimeout(resolve, 250)); // over two waits of a retry
    expect(log.appends).toBe(appends);
  });
  it('is not taken for removed when the log only fails', async () => {
    const ada = here.open('page', 'ada');
    await until('open', () => saved(ada));
    log.fails = () => true;
    log.failsToLoad = () => true;
    write(ada.doc, 'kept');
    await until('tried', () => log.appends > 1);
    expect(here.live.counts()).toMatchObject({ rooms: 1 });
    log.fails = () => false;
    await until('saved', () => saved(ada) && log.text('page') === 'kept');
  });
  it('is not taken for removed because another page of the same append is', async () => {
    log.pages.set('other', []);
    const ada = here.open('page', 'ada');
    const ben = here.open('other', 'ben');
    await until('open', () => saved(ada) && saved(ben));
    log.commits.shut();
    write(ada.doc, '1');
    await until('asked', () => log.appends === 1);
    write(ada.doc, '2');
    write(ben.doc, 'x');
    await until('taken', () => here.live.counts().unsavedBytes > 60);
    log.pages.delete('other');
    log.commits.lift();
    await until('saved', () => saved(ada) && log.text('page') === '12');
    await until('refused', () => ben.saved.getSnapshot().state === 'refused');
  });
  it('is noticed when what others wrote is read', async () => {
    const raw = await here.raw('page', 'ada').greeted();
    log.pages.delete('page');
    nodes[1]!.bus.send({ kind: 'log', page: 'page', number: 1 });
    expect(await raw.end()).toBe(closeUnknownPage);
  });
});

describe("a member's rights", () => {
  it('are looked at again at once when another server says so, and only theirs', async () => {
    const [ada, ben] = [await here.raw('page', 'ada').greeted(), await here.raw('page', 'ben').greeted()];
    here.members.delete('ada');
    here.asked.length = 0;
    there.live.closeMember('ada');
    expect(here.asked).toEqual(['ada']);
    expect(await ada.end()).toBe(closeSignedOut);
    expect(ben.open).toBe(true);
  });
  it('changed here are looked at there', async () => {
    await here.raw('page', 'ada').greeted();
    here.asked.length = 0;
    await there.live.recheck('ada');
    expect(here.asked).toEqual(['ada']);
  });
});

it('a killed server: its people go to the other, what was saved is there, and what was not comes along', async () => {
  const { ada, ben } = await both();
  write(ben.doc, 'saved, ');
  await until('saved', () => saved(ben) && textOf(ada.doc) === 'saved, ');
  log.commits.shut();
  write(ben.doc, 'not yet');
  await until('asked', () => log.appends === 2);
  nodes[1]!.kill();
  log.fails = (n) => n === 2;
  await there.kill();
  log.commits.lift();
  ben.provider.serverUrl = `${here.base}/live`;
  await until('saved', () => saved(ben) && textOf(ada.doc) === 'saved, not yet');
  expect(log.text('page')).toBe('saved, not yet');
});

it('a commit of a killed server of which nobody was told counts, and is not written twice over', async () => {
  const { ada, ben } = await both();
  log.commits.shut();
  write(ben.doc, 'word');
  await until('asked', () => log.appends === 1);
  nodes[1]!.kill();
  await there.kill();
  log.commits.lift(); // the log takes it, and its server can't say so any more
  await until('in the log', () => log.text('page') === 'word');
  ben.provider.serverUrl = `${here.base}/live`;
  await until('saved', () => saved(ben) && textOf(ada.doc) === 'word');
  expect(log.text('page')).toBe('word');
});

describe('a page whose document rests', () => {
  let quiet: House;
  beforeEach(async () => {
    quiet = await start(20);
  });
  async function resting(member = 'cleo') {
    const cleo = quiet.open('page', member);
    await until('open', () => saved(cleo));
    await until('rests', () => quiet.live.counts().awake === 0);
    return cleo;
  }
  it('passes on what others write without waking', async () => {
    const { ada } = await both();
    write(ada.doc, 'before ');
    await until('saved', () => saved(ada));
    const cleo = await resting();
    const words: string[] = [];
    for (const word of ['one ', 'two ', 'three ']) {
      write(ada.doc, word);
      words.push(word);
      await until('seen', () => textOf(cleo.doc) === `before ${words.join('')}`);
    }
    erase(ada.doc, 0, 7);
    await until('seen', () => textOf(cleo.doc) === 'one two three ');
    expect(quiet.live.counts().awake).toBe(0);
    expect(await quiet.live.read('page', textOf)).toBe('one two three ');
    write(cleo.doc, 'four');
    await until('seen', () => textOf(ada.doc) === 'one two three four' && saved(cleo));
  });
  it('wakes when what others wrote has been folded meanwhile', async () => {
    const { ada } = await both();
    write(ada.doc, 'abc');
    await until('saved', () => saved(ada));
    const cleo = await resting();
    nodes[2]!.cut();
    write(ada.doc, 'def');
    erase(ada.doc, 0, 1);
    await until('saved', () => saved(ada) && log.text('page') === 'bcdef');
    log.folded.set('page', log.pages.get('page')!.length);
    nodes[2]!.mend();
    await until('seen', () => textOf(cleo.doc) === 'bcdef');
    await until('rests again', () => quiet.live.counts().awake === 0);
  });
  it('and is woken by an edit while others write: nothing falls between', async () => {
    const { ada } = await both();
    const cleo = await resting();
    log.loads.shut();
    write(ada.doc, 'a');
    await until('saved', () => log.text('page') === 'a');
    write(cleo.doc, 'c');
    const raw = await quiet.raw('page', 'ben'); // one more who needs the document
    await until('connected', () => raw.open);
    log.loads.lift();
    await until('alike', () => textOf(cleo.doc).length === 2 && textOf(cleo.doc) === textOf(ada.doc) && saved(cleo));
    expect(await quiet.live.read('page', textOf)).toBe(textOf(ada.doc));
    expect(raw.of(messageSync).length).toBeGreaterThan(0);
  });
  it('and is woken by a read of the log that is older than what it has been told', async () => {
    const { ada } = await both();
    write(ada.doc, 'a');
    await until('saved', () => saved(ada));
    const cleo = await resting();
    const load = log.load.bind(log);
    const old = await load('page');
    let lift = () => {};
    const held = new Promise<void>((resolve) => {
      lift = resolve;
    });
    const spy = vi.spyOn(log, 'load').mockImplementationOnce(async () => {
      await held;
      return old;
    });
    write(cleo.doc, 'c'); // wakes with a read that takes its time
    await until('asked', () => spy.mock.calls.length === 1);
    write(ada.doc, 'b');
    await until('told', () => textOf(cleo.doc).includes('b'));
    lift();
    await until('alike', () => saved(cleo) && textOf(cleo.doc).length === 3 && textOf(cleo.doc) === textOf(ada.doc));
    expect(await quiet.live.read('page', textOf)).toBe(textOf(ada.doc));
  });
});

it('entries are the work of those who wrote them, on whichever server', async () => {
  const { ada, ben } = await both();
  write(ada.doc, 'a');
  await until('seen', () => textOf(ben.doc) === 'a');
  write(ben.doc, 'b');
  await until('saved', () => saved(ben));
  const entries: LogEntry[] = log.pages.get('page')!;
  expect(entries.map((e) => e.member)).toEqual(['ada', 'ben']);
});
