/** What can be put into a page, in the order of the insert menu. It weighs nothing: the code of a widget comes when a page has one. */
export interface MenuEntry {
  kind: string; // of a widget; the name of its folder
  title: string;
  about: string; // one line
  words: readonly string[]; // typed after "/" to find it
}

export const menu: readonly MenuEntry[] = [
  {
    kind: 'circuit-lookup',
    title: 'Circuit lookup',
    about: 'From a number, a name, wire colours or a pin to the circuit',
    words: ['circuit', 'lookup', 'switch', 'wire', 'pin', 'find'],
  },
  {
    kind: 'fault-finder',
    title: 'Fault finder',
    about: 'From what you saw to the likely faults and the next test',
    words: ['fault', 'finder', 'diagnosis', 'suspect', 'dead', 'test'],
  },
  {
    kind: 'connector-plan',
    title: 'Connector plan',
    about: 'Make a new plug: terminals, housing, order of work',
    words: ['connector', 'plan', 'plug', 'crimp', 'housing', 'header'],
  },
  {
    kind: 'photo',
    title: 'Photos',
    about: 'Take or choose photos, point at what matters, show before and after',
    words: ['photo', 'picture', 'image', 'camera', 'before', 'after'],
  },
  {
    kind: 'parts-tally',
    title: 'Parts tally',
    about: 'What this page needs, what is in stock, what to order',
    words: ['parts', 'tally', 'stock', 'order', 'shopping'],
  },
  {
    kind: 'proof-test',
    title: 'Proof test',
    about: 'Count clean presses together until the mend is proved',
    words: ['proof', 'test', 'count', 'press', 'intermittent', 'clean'],
  },
  {
    kind: 'fix-record',
    title: 'Fix record',
    about: 'Symptom, cause, remedy and proof: what the next person will search for',
    words: ['fix', 'record', 'cause', 'remedy', 'outcome', 'mended'],
  },
];
