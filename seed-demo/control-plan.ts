import { entered, later, type Fields, type Release, type Step } from './step.js';

const PLAN_AT = '2026-03-02T15:30:00Z';
const STRING = { stringId: '@string 2' };

const item = (code: string, clause: string, demands: string, changes: Fields = {}): Fields => ({
  code, clause, demands, at: 'pipe', marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null, ...changes,
});

/** From the lead end on: what every metre of the main string needs, and every joint of it. */
const plan = entered('rasmus', 'control-plans', 'control plan', {
  ...STRING, observedAt: PLAN_AT, document: 'Pipe inspection plan', revision: '2', fromMm: 0, note: 'Set up with the channels of the line.',
  items: [
    item('COIL', '3.1', 'coil-accepted'), item('HEAT', '3.2', 'heat-confirmed'), item('SEAM', '4.1', 'seam-parameters'),
    item('UT-S', '5.1', 'channel-inspected', { channelId: '@UT-seam', exceptAt: [{ at: 'splices', marginMm: 500 }, { at: 're-joins', marginMm: 500 }] }),
    item('UT-W', '5.2', 'channel-inspected', { channelId: '@UT-wall' }),
    item('OD', '4.2', 'dimension', { characteristic: 'outside diameter', reachMm: 160_000 }),
    item('SPLICE', '4.7', 'splice-accepted', { at: 'splices', marginMm: 0 }), item('REJOIN', '4.8', 'rejoin-accepted', { at: 're-joins', marginMm: 0 }),
    item('WITNESS', '6.1', 'point', { at: 'splices', marginMm: 0, point: 'witness' }),
    item('REPAIR', '6.2', 'repairs-reinspected'), item('NCR', '6.3', 'nonconformances-closed'), item('RELEASE', '7.1', 'released'),
  ],
});

/** The line's channels were set up on the evening of the first day: what had passed by then was looked at by hand, as agreed. */
const waived = ['UT-S', 'UT-W'].map((itemCode, index): Step => entered('rasmus', 'evidence-waivers', `waiver of ${itemCode}`, {
  ...STRING, observedAt: later(PLAN_AT, 10 + index), from: { footageMm: 0 }, to: { footageMm: 185_000 }, itemCode, basis: 'waiver', agreedBy: "Purchaser's representative",
  agreement: 'Minutes of the pre-production meeting, item 9', grounds: 'First day of production: channels not yet set up', nonconformanceId: null,
}));

const jam = { observedAt: '2026-03-09T08:54:00Z', cause: 'Strip jammed: the pipe stood in the weld box and was run back' };

const held: readonly Step[] = [
  entered('piet', 'holds', 'hold after the jam', { ...STRING, ...jam, intervals: [{ from: { footageMm: 834_000 }, to: { footageMm: 838_000 } }], coilIds: [], spliceIds: [] }),
  entered('ilka', 'hold-liftings', 'lifting of the hold after the jam', {
    ...STRING, observedAt: '2026-03-09T11:40:00Z', holdId: '@hold after the jam', grounds: 'Seam ground and looked at over 6 m, nothing seen', evidence: 'Visual inspection of the seam', ownHoldBecause: null,
  }),
  entered('piet', 'attendances', 'witness of S-2', {
    ...STRING, observedAt: '2026-03-03T08:40:00Z', from: { footageMm: 215_000 }, to: { footageMm: 215_600 }, itemCode: 'WITNESS', outcome: 'accepted',
    attendedBy: [{ name: "Purchaser's representative", party: 'customer' }], note: null,
  }),
];

/** Signed hours before the string was handed over; the counter that gives this pipe its footage was corrected two days later. */
const released: Release = {
  step: 'release', by: 'ilka', recordedAt: '2026-03-14T16:20:00Z', key: 'release of 190 to 300 m', string: 'string 2', fromMm: 190_000, toMm: 300_000, grounds: 'Evidence looked at item by item with the shift',
  reasons: { 'UT-W': 'Gap of the wall gauge of 1.2 m: inspected before and after it, strip of one coil', OD: 'No reading on the strip before S-2: the diameter gauge was being set up' }, ownWorkBecause: 'Nobody else with the right was on site that evening; Rasmus looks at it on Monday',
};

/** What the pipe needs, what was agreed not to be needed, what was held, and a release. */
export const CONTROL_PLAN: readonly Step[] = [plan, ...waived, ...held, released];
