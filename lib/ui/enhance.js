// Small conveniences for pages that work without them: the clue box answers while one types, wires light up, links warm up.
const $ = (selector, root = document) => root.querySelector(selector);

// Ctrl-K or Cmd-K goes to the clue box from anywhere.
const clue = $('#clue');
addEventListener('keydown', (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'k' && clue) {
    event.preventDefault();
    clue.focus();
    clue.select();
  }
});

// Answers under the clue box before Enter.
if (clue) {
  const list = document.createElement('ul');
  list.className = 'clue-answers';
  list.id = 'clue-answers';
  list.hidden = true;
  clue.closest('form').append(list);
  clue.setAttribute('aria-controls', list.id);
  clue.setAttribute('autocomplete', 'off');
  let timer;
  let asked = 0;
  const show = (rows) => {
    if (rows === null) {
      list.hidden = true;
      return;
    }
    if (rows.length === 0) {
      const item = document.createElement('li');
      item.className = 'clue-none';
      item.textContent = 'Nothing like it yet. Enter looks again, with every word.';
      list.replaceChildren(item);
      list.hidden = false;
      return;
    }
    list.replaceChildren(
      ...rows.map(({ href, title, note }) => {
        const item = document.createElement('li');
        const link = document.createElement('a');
        link.href = href;
        const strong = document.createElement('b');
        strong.textContent = title;
        const small = document.createElement('span');
        small.textContent = note;
        link.append(strong, small);
        item.append(link);
        return item;
      }),
    );
    list.hidden = false;
  };
  const ask = () => {
    const query = clue.value.trim();
    const mine = ++asked;
    if (query.length < 2) return show(null);
    const from = (address) => fetch(`${address}q=${encodeURIComponent(query)}`).then((answer) => (answer.ok ? answer.json() : null)).catch(() => null);
    const found = { answers: [], results: [] };
    const take = (given) => {
      if (!given || mine !== asked) return;
      Object.assign(found, given);
      const rows = [
        ...found.answers.slice(0, 4).map((a) => ({ href: `/machines/${a.machineId}?${a.kind === 'circuit' ? 'circuit' : 'clue'}=${encodeURIComponent(a.kind === 'circuit' ? a.id : query)}`, title: a.title, note: `${a.machine}: ${[...a.wires, ...a.pins].join(', ')}` })),
        ...found.results.slice(0, 4).map((r) => ({ href: `/pages/${r.page}`, title: r.title, note: [r.machine, r.why[0]].filter(Boolean).join(', ') })),
      ];
      if (rows.length > 0 || 'total' in found) show(rows);
    };
    // The circuit itself is there before the past fixes are.
    from('/api/clue?').then(take);
    from('/api/search?limit=4&').then(take);
  };
  clue.addEventListener('input', () => {
    clearTimeout(timer);
    timer = setTimeout(ask, 80);
  });
  addEventListener('click', (event) => {
    if (!event.target.closest('form.clue')) list.hidden = true;
  });
  clue.form.addEventListener('keydown', (event) => {
    const links = [...list.querySelectorAll('a')];
    if (list.hidden || links.length === 0) return;
    const at = links.indexOf(document.activeElement);
    if (event.key === 'ArrowDown') links[Math.min(at + 1, links.length - 1)].focus();
    else if (event.key === 'ArrowUp') (at <= 0 ? clue : links[at - 1]).focus();
    else if (event.key === 'Escape') {
      list.hidden = true;
      clue.focus();
    } else return;
    event.preventDefault();
  });
}

// Pointing at a wire lights it everywhere on the page.
const light = (colour) => {
  document.body.classList.toggle('lighting', Boolean(colour));
  for (const element of document.querySelectorAll('[data-wire]')) element.classList.toggle('lit', element.dataset.wire === colour);
};
const wireAt = (event) => event.target.closest?.('[data-wire]')?.dataset.wire;
for (const kind of ['pointerover', 'focusin']) addEventListener(kind, (event) => light(wireAt(event)));
addEventListener('focusout', () => light());

// On a map the arrow keys go from cell to cell, past those that are not used; Home and End to the ends of a row.
const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1], Home: [-99, 0], End: [99, 0] };
addEventListener('keydown', (event) => {
  const step = steps[event.key];
  const from = step && event.target.closest?.('a[data-cell]');
  if (!from || event.ctrlKey || event.altKey || event.metaKey) return;
  const at = (cell) => cell.dataset.cell.split(',').map(Number);
  const [along, across] = step[0] ? [0, 1] : [1, 0];
  const way = Math.sign(step[along]);
  const [here, line] = [at(from)[along], at(from)[across]];
  const cells = [...from.ownerSVGElement.querySelectorAll('a[data-cell]')]
    .filter((cell) => at(cell)[across] === line && (at(cell)[along] - here) * way > 0)
    .sort((a, b) => (at(a)[along] - at(b)[along]) * way);
  const to = cells.at(Math.abs(step[along]) > 1 ? -1 : 0);
  event.preventDefault();
  to?.focus();
  to?.scrollIntoView({ block: 'nearest', inline: 'center' });
});

// The chosen cell of a map stands in sight.
for (const lit of document.querySelectorAll('.bleed a[aria-current]')) {
  const box = lit.closest('.bleed');
  box.scrollLeft += lit.getBoundingClientRect().left - box.getBoundingClientRect().left - box.clientWidth / 2;
}

// A link marked data-warm fetches what its page will need as soon as somebody reaches for it.
const warmed = new Set();
const warm = async (event) => {
  const link = event.target.closest?.('a[data-warm]');
  if (!link || warmed.has(link.href)) return;
  warmed.add(link.href);
  const page = await fetch(link.href).then((r) => (r.ok ? r.text() : ''), () => '');
  for (const [, source] of page.matchAll(/<script[^>]*\ssrc="([^"]+)"/g)) {
    const hint = document.createElement('link');
    hint.rel = 'prefetch';
    hint.as = 'script';
    hint.href = source.replaceAll('&amp;', '&');
    document.head.append(hint);
  }
};
for (const kind of ['pointerover', 'focusin', 'touchstart']) addEventListener(kind, warm, { passive: true });

// A link or token to take away is selected when touched.
addEventListener('focusin', (event) => {
  if (event.target.matches?.('input[data-copy]')) event.target.select();
});

// A chosen point of the past is shown at once; arrow keys on the slider come in bursts.
let showing;
addEventListener('change', (event) => {
  const { form } = event.target;
  if (!form?.matches?.('[data-submit-on-change]')) return;
  clearTimeout(showing);
  showing = setTimeout(() => form.requestSubmit(), 300);
});

// While pages are computed again from a changed chart, the line that says so stays true, and says when it is done.
for (const told of document.querySelectorAll('[data-progress]')) {
  const look = async () => {
    const answer = await fetch(told.dataset.progress).catch(() => null);
    if (!answer?.ok) return;
    const { pages, left } = await answer.json();
    told.textContent = left ? `The chart was changed: ${pages - left} of ${pages} pages are computed again.` : `All ${pages} pages follow from the changed chart. Reload to see their marks.`;
    if (left) setTimeout(look, 1000);
  };
  setTimeout(look, 1000);
}

// While an archive is brought in, its screen is asked how far it is; in the end what came of it takes its place.
const askBringing = async () => {
  const here = $('#bringing');
  const answer = await fetch(location.href).catch(() => null);
  if (answer?.redirected) return location.assign(answer.url);
  const fresh = answer?.ok && new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById('bringing');
  if (!fresh) $('[data-said]', here).textContent = 'The server does not answer. It is asked again.';
  else if (!fresh.matches('[data-going]')) {
    here.replaceWith(fresh);
    return $('[tabindex]', fresh)?.focus();
  } else for (const each of ['[data-said]', 'progress']) if (!$(each, here).isEqualNode($(each, fresh))) $(each, here).replaceWith($(each, fresh));
  setTimeout(askBringing, 1000);
};
if ($('#bringing[data-going]')) setTimeout(askBringing, 1000);

// What was opened opens again without network; what was written without network is sent from any page.
const member = $('meta[name=member]')?.content;
const listed = (place) => {
  try {
    return Object.entries(JSON.parse(localStorage.getItem(place) ?? '{}')).map(([key, entry]) => ({ page: key.split(' ')[0], ...entry }));
  } catch {
    return [];
  }
};
// A picture that waits counts as a change of its page.
const kept = () => {
  const all = listed('fettlebook.kept');
  for (const { page, member: of, title } of listed('fettlebook.pictures')) {
    const known = all.find((entry) => entry.page === page && entry.member === of);
    if (known) known.changes++;
    else all.push({ page, member: of, title, changes: 1 });
  }
  return all;
};
const keptOf = (who) => kept().filter((entry) => entry.member === who);
if (member) navigator.serviceWorker?.register('/sw.js').catch(() => {});
// A screen that was on its way while the worker began belongs to none yet, and its own files would not be kept: it asks to be taken.
navigator.serviceWorker?.ready.then(({ active }) => {
  if (!navigator.serviceWorker.controller) active.postMessage('take');
});

const make = (tag, properties) => Object.assign(document.createElement(tag), properties);
const toWrite = ({ page, title }) => make('a', { href: `/pages/${page}/write`, textContent: title });
const line = make('p', { className: 'kept-line', role: 'status' });
const say = (text, pages = []) => {
  const next = make('p');
  next.append(text, ...pages.flatMap((each) => [' ', toWrite(each)]));
  if (next.innerHTML !== line.innerHTML) line.replaceChildren(...next.childNodes);
  if (!line.isConnected) document.body.prepend(line);
};
const count = (pages) => `${pages.length} ${pages.length === 1 ? 'page has' : 'pages have'} changes that only this device has.`;
// A script stays in a window as it came first, or failed to come; under another address it comes again.
let sender = '/send.js';
let senders = 0;
const nextSender = () => {
  sender = `/send.js?${++senders}`;
};
const [shortestPause, longestPause] = [5_000, 5 * 60_000];
let pause = shortestPause;
let again;
const send = async () => {
  clearTimeout(again);
  const mine = keptOf(member);
  if (!member || location.pathname.endsWith('/write') || mine.length === 0) return [];
  if (!navigator.onLine) say(count(mine), mine);
  else if (pause === shortestPause) say(`${count(mine)} Sending.`, mine);
  if (!navigator.onLine) return mine;
  const left = await import(sender).then(({ sendKept }) => sendKept(member)).catch(() => {
    nextSender();
    return keptOf(member);
  });
  if (left.length === 0) say('Everything that was written here without network has been sent.');
  else {
    say(`${count(left)} They could not be sent yet and will be tried again. To see why, open`, left);
    again = setTimeout(sendAll, pause);
    pause = Math.min(2 * pause, longestPause);
  }
  return left;
};
let sending;
// One sending at a time: the second waits for the first.
const sendAll = () => (sending ??= send().finally(() => (sending = undefined)));
const sendNow = () => {
  pause = shortestPause;
  return sendAll();
};
sendNow();
// A browser that was killed has lost the newest of its storage, not of its databases.
const anyStore = async () => localStorage.getItem('fettlebook.shelf') || (await indexedDB.databases()).some(({ name }) => name.startsWith('fettlebook'));
// So the documents themselves are asked what is kept: once for each window and member, and again after ten minutes, as a window that is
// opened again after that still has what it noted before.
const recall = async () => {
  const place = 'fettlebook.recalled';
  const turn = `${member} ${Math.floor(Date.now() / 600_000)}`;
  if (!member || location.pathname.endsWith('/write') || sessionStorage.getItem(place) === turn || !(await anyStore())) return;
  const device = await import(sender).catch(nextSender);
  await device?.recallKept();
  if (device) sessionStorage.setItem(place, turn);
  sendNow();
};
recall().catch(() => {});
addEventListener('online', sendNow);
// Another build has taken over: what its server refused to the sender of the one before, its own can send.
navigator.serviceWorker?.addEventListener('controllerchange', () => {
  nextSender();
  sendNow();
});

// What was entered on a screen of charts or pinned on a photo and never saved: one entry each, named after what it belongs to.
const drafts = () => {
  const all = [];
  for (const key of Object.keys(globalThis.localStorage ?? {}).sort()) {
    const [kind, ...rest] = key.split(' ');
    const who = rest.pop();
    if (/^fettlebook\.(entry|pins)$/.test(kind)) all.push({ key, member: who, of: rest.join(' ').replace(/^\/api\/(machine|design)s\/([^/]*).*/, '$1 $2') });
  }
  return all;
};

// Signing out takes everything of the member off this device, after sending what was not sent; what others left here stays. Without
// network nothing is taken: the session would go on.
addEventListener('submit', async (event) => {
  const form = event.target;
  if (!form.matches?.('[data-sign-out]') || form.dataset.cleared || !member) return;
  event.preventDefault();
  if (!(await fetch('/enhance.js', { method: 'HEAD', cache: 'no-store', signal: AbortSignal.timeout(9000) }).catch(() => null))?.ok)
    return say('Signing out needs the network. Nothing was changed.');
  const device = await import(sender).catch(nextSender);
  if (!device) return say('Signing out needs the network. Nothing was changed.');
  await device.recallKept();
  const left = await sendNow();
  const mine = drafts().filter((draft) => draft.member === member);
  const lost = [];
  if (left.length) lost.push(`${count(left)} They could not be sent and would be lost: ${left.map(({ title, changes }) => `${title} (${changes})`).join(', ')}.`);
  if (mine.length) lost.push(`Entries of charts that were never saved would be lost: ${mine.map(({ of }) => of).join(', ')}.`);
  if (lost.length && !confirm(`${lost.join(' ')} Sign out all the same?`)) return;
  if ([...kept(), ...drafts()].every((entry) => entry.member === member)) form.append(make('input', { type: 'hidden', name: 'clear' }));
  for (const { key } of mine) localStorage.removeItem(key);
  await device.forgetMember(member);
  for (const name of ['pages', 'pictures', 'about']) await globalThis.caches?.delete(name);
  form.dataset.cleared = 'yes';
  form.requestSubmit();
});

// Who signed out without scripts left the documents here: those that were sent go now, the others wait for their member.
const letGo = async () => {
  if (await anyStore()) await (await import('/send.js')).forgetSent();
};
if (location.pathname === '/sign-in') letGo().catch(() => {});

// A large file says how much of it has gone up and can be stopped; when it does not arrive, the form stands as it was and says what to do.
const megabytes = (bytes) => Math.ceil(bytes / 1e6).toLocaleString('en-GB');
addEventListener('submit', (event) => {
  const form = event.target;
  if (!form.matches?.('[data-upload]')) return;
  event.preventDefault();
  const request = new XMLHttpRequest(); // the only one that tells how much has gone up
  const button = $('[type=submit]', form);
  const bar = make('progress', { max: 1, value: 0, ariaLabel: 'Sent' });
  const told = make('p', { className: 'soft', textContent: 'Sending. Keep this window open.' });
  const stop = make('button', { type: 'button', className: 'btn', textContent: 'Stop' });
  const stay = (leaving) => leaving.preventDefault();
  const end = (words) => {
    removeEventListener('beforeunload', stay);
    for (const each of [bar, told, stop]) each.remove();
    button.disabled = false;
    if (words) form.prepend(make('p', { className: 'form-message', role: 'alert', textContent: `${words} Nothing was kept, and your file is as it was.` }));
  };
  request.upload.onprogress = ({ loaded, total }) => {
    bar.value = loaded / total;
    told.textContent = loaded < total ? `${megabytes(loaded)} of ${megabytes(total)} MB sent. Keep this window open.` : 'All is sent; the server looks into it.';
  };
  request.onload = () => {
    end(request.status < 400 ? '' : `The server could not take it (${request.status}). Its disk may be full, or you are signed out.`);
    if (request.status < 400) location.assign(request.responseURL);
  };
  request.onerror = () => end('It did not arrive: the network or the server went away. Send it again when both are there.');
  request.onabort = () => end('Stopped.');
  stop.addEventListener('click', () => request.abort());
  addEventListener('beforeunload', stay);
  for (const old of form.querySelectorAll('.form-message')) old.remove();
  request.open('POST', form.action);
  request.send(new FormData(form));
  button.disabled = true;
  button.after(bar, told, stop);
});

// The page without network names what opens all the same, and what waits to be sent.
const opens = $('[data-opens]');
const add = (section, ...parts) => {
  const item = make('li');
  item.append(...parts);
  $('ul', section).append(item);
  section.hidden = false;
};
const nameCopies = async () => {
  const who = await (await (await caches.open('about')).match('/member'))?.text();
  for (const entry of keptOf(who)) add($('[data-waits]'), toWrite(entry), make('span', { className: 'soft', textContent: `${entry.changes} ${entry.changes === 1 ? 'change' : 'changes'}` }));
  const cache = await caches.open('pages');
  for (const request of (await cache.keys()).reverse()) {
    const { pathname } = new URL(request.url);
    if (pathname.endsWith('/write')) continue;
    const html = await (await cache.match(request, { ignoreVary: true })).text();
    const { title } = new DOMParser().parseFromString(html, 'text/html');
    add(opens, make('a', { href: pathname, textContent: title.replace(/ · Fettlebook$/, '') }));
  }
};
if (opens && globalThis.caches) nameCopies().catch(() => {});

// The slider of before and after: what is left of the line is before.
addEventListener('input', (event) => {
  const pair = event.target.closest?.('[data-pair]');
  if (!pair) return;
  const at = Number(event.target.value) * 10;
  const shown = $('rect', pair);
  shown.setAttribute('x', at);
  shown.setAttribute('width', 1000 - at);
  for (const line of pair.querySelectorAll('svg > path')) line.setAttribute('d', `M${at} 0V${shown.getAttribute('height')}`);
});

// Past fixes while one types: the screen itself is asked for, and what it found is put in the place of what stands here.
const fixes = $('#fixes');
if (fixes) {
  let timer;
  let asked = 0;
  let waiting = 0; // for answers
  const look = async () => {
    const query = fixes.value.trim();
    const mine = ++asked;
    if (query.length < 2) return;
    const address = `/search?q=${encodeURIComponent(query)}`;
    waiting++;
    const answer = await fetch(address).catch(() => null);
    waiting--;
    if (!answer?.ok || answer.redirected) return; // Enter says why
    const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById('found');
    if (!fresh || mine !== asked) return;
    $('#found').replaceWith(fresh);
    history.replaceState(null, '', address);
  };
  fixes.addEventListener('input', () => {
    clearTimeout(timer);
    // At once, unless the line is slower than the fingers.
    if (waiting) timer = setTimeout(look, 120);
    else look();
  });
}
