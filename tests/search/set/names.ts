/** Invented boards, machines and their banks. No name stands for anything real. */
import type { Names } from './charts';

export const tuneNames: Names = {
  designs: ['KD-4', 'KD-7', 'RU-2'],
  machines: [
    'Copper Heron',
    'Paper Lighthouse',
    'Brass Meadow',
    'Otter Parade',
    'Sixpenny Pier',
    'Gannet Mail',
    'Thimble Works',
    'Moss Ferry',
  ],
  banks: [
    ['Reed', 'Fish', 'Feather'],
    ['Lantern', 'Step', 'Bell'],
    ['Clover', 'Hive', 'Gate'],
    ['Pebble', 'Whisker', 'Stream'],
    ['Penny', 'Plank', 'Gull'],
    ['Parcel', 'Stamp', 'Wing'],
    ['Cotton', 'Button', 'Needle'],
    ['Rope', 'Buoy', 'Oar'],
  ],
};
export const holdNames: Names = {
  designs: ['PX-3', 'PX-5', 'VM-1'],
  machines: [
    'Marzipan Mill',
    'Ferry Lamplight',
    'Tallow Street',
    'Wren Carousel',
    'Quince Harbour',
    'Barley Signal',
    'Slate Picnic',
    'Plover Yard',
  ],
  banks: [
    ['Almond', 'Sack', 'Sieve'],
    ['Wick', 'Pylon', 'Mast'],
    ['Candle', 'Shutter', 'Chimney'],
    ['Pony', 'Ribbon', 'Mirror'],
    ['Crate', 'Anchor', 'Net'],
    ['Sheaf', 'Semaphore', 'Track'],
    ['Basket', 'Kite', 'Cloud'],
    ['Nest', 'Fence', 'Furrow'],
  ],
};
