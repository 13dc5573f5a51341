'use client';
/** Who is here and whether everything is saved. */
import { useEffect, useState, useSyncExternalStore } from 'react';
import { People, SaveSign } from '../shell';
import { initials } from './carets';
import { type Session, useSession, useStore } from './session';

const clock = (at: number | null) => (at === null ? '' : new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' }));

export function LiveSign() {
  const session = useSession();
  if (!session) return <SaveSign state="connecting">Opening</SaveSign>;
  return (
    <>
      <Here session={session} />
      <Saved session={session} />
    </>
  );
}

function Saved({ session }: { session: Session }) {
  const saved = useStore(session.live.saved);
  if (saved.state === 'refused') return <SaveSign state="refused">{saved.reason}</SaveSign>;
  if (!session.data.write) return <SaveSign state="reading">Reading only</SaveSign>;
  const counted = (n: number) => `${n} ${n === 1 ? 'change' : 'changes'}`;
  const kept =
    saved.device === 'keeping'
      ? `${counted(saved.onDevice)} kept on this device`
      : `${counted(saved.kept)} in this window only: leave it open`;
  switch (saved.state) {
    case 'connecting':
      return <SaveSign state="connecting">Opening</SaveSign>;
    case 'offline':
      return <SaveSign state="offline">{saved.kept ? `Offline: ${kept}` : 'Offline'}</SaveSign>;
    case 'saving':
      return <SaveSign state="saving">{saved.device === 'failed' ? 'Saving: leave this window open' : 'Saving'}</SaveSign>;
    case 'saved':
      return <SaveSign state="saved">{saved.at ? `Saved ${clock(saved.at)}` : 'All saved'}</SaveSign>;
  }
}

interface Person {
  id: string;
  name: string;
  hand: number;
}

function Here({ session }: { session: Session }) {
  const people = usePeople(session);
  return <People people={people.map((p) => ({ initials: initials(p.name), name: p.name, hand: p.hand }))} />;
}

function usePeople(session: Session): Person[] {
  const { awareness } = session.live;
  const [store] = useState(() => {
    let snapshot: Person[] = [];
    const read = () => {
      const byId = new Map<string, Person>();
      for (const state of awareness.getStates().values()) {
        const user = state.user as Partial<Person> | undefined;
        if (user?.id && user.name) byId.set(user.id, { id: user.id, name: user.name, hand: user.hand ?? 0 });
      }
      const next = [...byId.values()].sort((a, b) => a.name.localeCompare(b.name));
      if (JSON.stringify(next) !== JSON.stringify(snapshot)) snapshot = next;
      return snapshot;
    };
    return {
      subscribe(listener: () => void) {
        awareness.on('change', listener);
        return () => awareness.off('change', listener);
      },
      getSnapshot: read,
    };
  });
  return useSyncExternalStore(store.subscribe, store.getSnapshot, () => []);
}

/** Asks before the window is closed with changes that only this window has. */
export function LeaveGuard() {
  const session = useSession();
  useEffect(() => {
    if (!session) return;
    const ask = (event: BeforeUnloadEvent) => {
      const { kept, onDevice } = session.live.saved.getSnapshot();
      if (kept > onDevice) event.preventDefault();
    };
    window.addEventListener('beforeunload', ask);
    return () => window.removeEventListener('beforeunload', ask);
  }, [session]);
  return null;
}
