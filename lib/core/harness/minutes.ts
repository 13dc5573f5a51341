/**
 * The table of minutes. Estimates from counts, for a practised pair of hands at a bench with the right tool laid out: common practice, no
 * source. A first plug takes twice as long.
 */
export const minutes = {
  powerOff: 1,
  charge: 3,
  batteries: 2,
  photo: 1,
  mark: 1,
  perJoint: 0.5, // reflowed or made new
  reflow: 3, // iron warm, board turned
  header: 15, // old one out, holes cleared
  cut: 4,
  key: 1,
  perSampleKind: 5,
  perPigtail: 6, // cut, crimp, splice, sleeve
  perPosition: 2.5, // cut back, strip, crimp, tug, seat
  perFurtherWire: 1, // laid in beside the first, smallest innermost
  perContinuity: 0.5,
  groups: 2,
  perGroup: 0.25,
  reseat: 2,
  proof: 10,
} as const;
