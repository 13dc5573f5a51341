/** Fault classes: what was really at fault. A fix record names one by its id; search groups by them. */
export const faultClasses = [
  { id: 'worn-contact', name: 'Worn contact in a housing' },
  { id: 'cracked-joint', name: 'Cracked joint under a header' },
  { id: 'scorched-connector', name: 'Scorched connector' },
  { id: 'misplaced-plug', name: 'Plug misplaced or half seated' },
  { id: 'exchanged-wires', name: 'Wires exchanged' },
  { id: 'broken-wire', name: 'Broken wire' },
  { id: 'splice', name: 'Bad splice' },
  { id: 'short', name: 'Short between lines or to ground' },
  { id: 'switch-adjustment', name: 'Switch out of adjustment' },
  { id: 'switch-dirty', name: 'Dirty or worn switch contact' },
  { id: 'switch-broken', name: 'Broken switch' },
  { id: 'lug-joint', name: 'Bad joint at a lug' },
  { id: 'diode-absent', name: 'Diode absent or open' },
  { id: 'diode-bypassed', name: 'Diode bypassed' },
  { id: 'diode-reversed', name: 'Diode reversed' },
  { id: 'optic', name: 'Optical emitter or detector dead' },
  { id: 'driver', name: 'Column driver' },
  { id: 'row-input', name: 'Row input' },
  { id: 'transistor', name: 'Driver transistor of a load' },
  { id: 'fuse', name: 'Fuse or fuse holder' },
  { id: 'coil', name: 'Coil' },
  { id: 'lamp', name: 'Lamp or lamp socket' },
  { id: 'supply', name: 'Supply' },
  { id: 'mechanical', name: 'Mechanical' },
  { id: 'other', name: 'Something else' },
  { id: 'not-found', name: 'No fault found' },
] as const;
export type FaultClass = (typeof faultClasses)[number]['id'];

/** The name of a fault class; the id itself when it is none of ours. */
export const faultName = (id: string) => faultClasses.find((c) => c.id === id)?.name ?? id;
