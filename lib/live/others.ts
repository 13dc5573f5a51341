/** What the other servers on the same log tell this one. */
import type { Bus, BusMessage } from '@/lib/store/types';
import type { Rooms } from './rooms';

/** Starts to listen; `recheck` looks again at a member's sockets. */
export function hearOthers(bus: Bus, rooms: Rooms, recheck: (member: string) => void) {
  const hear = (message: BusMessage) => {
    switch (message.kind) {
      case 'log':
        return rooms.find(message.page)?.heard(message.number);
      case 'presence':
        return rooms.find(message.page)?.presence.receiveOthers(message.update);
      case 'presence-ask': {
        const update = rooms.find(message.page)?.presence.local();
        if (update) bus.send({ kind: 'presence', page: message.page, update });
        return;
      }
      case 'page-gone':
        return rooms.forget(message.page);
      case 'member':
        return recheck(message.member);
      case 'charts': // none of ours
    }
  };
  bus.listen(
    (message) => {
      try {
        hear(message);
      } catch (error) {
        console.error(`A message of another server could not be worked on (${message.kind}):`, error);
      }
    },
    () => {
      for (const room of rooms.open()) room.missed();
    },
  );
}
