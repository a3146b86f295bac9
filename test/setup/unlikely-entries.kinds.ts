import type { Dice, Fields } from './bad-entries.js';
import type { EntryWorld } from './entry-world.js';
import type { Unlikely, UnlikelyEntry, UnlikelyKind } from './unlikely-entries.js';

const AT = '2026-03-02T08:15:00Z';
const NOTED = { note: 'Written down again in ink' };

/** Digits from `low` up to below `high`, in steps of `step`, with the decimals of the step. */
function digits(dice: Dice, low: number, high: number, step: number): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  return (low + dice.roll(Math.round((high - low) / step)) * step).toFixed(decimals);
}

const normal = (instant: string): string => `${new Date(instant).toISOString().slice(0, -1)}000Z`;
const later = (instant: string, minutes: number): string => new Date(Date.parse(instant) + minutes * 60_000).toISOString();

const SPLICES: UnlikelyKind = {
  path: 'splices', amendment: NOTED,
  draw: ({ stringId, leavingCoilId, enteringCoilId, farCoilId }, nth, dice) => {
    const [isFlat, isApart] = dice.of([[true, false], [false, true], [true, true]] as const);
    const angleDeg = isFlat ? digits(dice, 10, 30, 0.1) : digits(dice, 30, 89, 0.1);
    // Coils that meet nowhere, or a place more than 2 m from where they do: at 100 m.
    const entering = isApart && dice.roll(2) === 0 ? farCoilId : enteringCoilId;
    const footageMm = isApart ? 103_000 + dice.roll(3_000_000) : 99_000 + dice.roll(1000);
    const asked: Unlikely[] = [
      ...(isFlat ? [{ field: 'angleDeg', value: angleDeg }] : []), ...(isApart ? [{ field: 'from', value: String(footageMm), sentAt: 'from.footageMm' }] : []),
    ];
    return { asked, body: { observedAt: AT, stringId, number: `S-U${nth}`, leavingCoilId, enteringCoilId: entering, angleDeg, hand: 'left', confirmed: true, verdict: 'open', from: { footageMm } } };
  },
};

/** Readings of which one or two are unusual, in any of their units. */
function unusual(dice: Dice): { readings: Fields[]; asked: Unlikely[] } {
  const angle = (): Fields => ({ variable: 'splice-angle', printed: digits(dice, 10, 30, 0.1), unit: 'deg' });
  const filler = (): Fields => dice.of([
    { variable: 'filler-diameter', printed: digits(dice, 0.1, 0.6, 0.01), unit: 'mm' }, { variable: 'filler-diameter', printed: digits(dice, 6.5, 20, 0.1), unit: 'mm' },
    { variable: 'filler-diameter', printed: digits(dice, 0.3, 0.7, 0.01), unit: 'in' },
  ]);
  const unlikely = dice.of([() => [angle()], () => [filler()], () => [angle(), filler()]])();
  return { readings: unlikely, asked: unlikely.map(({ printed }, index) => ({ field: `readings[${index}].printed`, value: String(printed) })) };
}

const WELDS: UnlikelyKind = {
  path: 'welds', amendment: NOTED,
  draw: ({ stringId, spliceId, spliceProcedureId }, _, dice) => {
    const { readings, asked } = unusual(dice);
    return { asked, body: { observedAt: AT, stringId, spliceId, weldProcedureId: spliceProcedureId, readings, chosen: [{ choice: 'process', value: '135' }] } };
  },
};

const SEAM_EVENTS: UnlikelyKind = {
  path: 'seam-events', amendment: NOTED,
  draw: ({ stringId, seamProcedureId }, nth, dice) => {
    const { readings, asked } = unusual(dice);
    return { asked, body: { observedAt: AT, stringId, from: { footageMm: 20_000 + nth * 10 }, event: 'set-up-change', weldProcedureId: seamProcedureId, readings } };
  },
};

const REPAIRS: UnlikelyKind = {
  path: 'repairs', amendment: NOTED,
  draw: ({ stringId }, nth, dice) => {
    const [isDeep, isOdd] = dice.of([[true, false], [false, true], [true, true]] as const);
    // The string's wall is 5.00 mm.
    const depthRemovedMm = isDeep ? digits(dice, 5.01, 100, 0.01) : digits(dice, 0, 5, 0.01);
    const remainingWallMm = isOdd ? dice.of([digits(dice, 0, 0.3, 0.01), digits(dice, 40.01, 100, 0.01)]) : digits(dice, 0.3, 5, 0.01);
    const asked = [...(isDeep ? [{ field: 'depthRemovedMm', value: depthRemovedMm }] : []), ...(isOdd ? [{ field: 'remainingWallMm', value: remainingWallMm }] : [])];
    return {
      asked, body: {
        observedAt: AT, stringId, from: { footageMm: 20_000 + nth * 10 }, method: dice.of(['grinding', 'machining']), found: 'Scratch', depthRemovedMm, remainingWallMm, readings: [], chosen: [], photoSha256s: [],
      },
    };
  },
};

const INSPECTIONS: UnlikelyKind = {
  path: 'inspections', amendment: NOTED,
  draw: ({ stringId }, nth, dice) => {
    const [characteristic, value] = dice.of([
      ['wall thickness', digits(dice, 0, 0.3, 0.01)], ['Strip thickness at the edge', digits(dice, 40.01, 60, 0.01)], ['outside diameter', digits(dice, 701, 5000, 0.1)], ['outside diameter', digits(dice, 1, 10, 0.1)],
      ['high-low', digits(dice, 5.1, 12, 0.1)], ['high-low', `-${digits(dice, 0.1, 2, 0.1)}`],
    ] as const);
    return { asked: [{ field: 'value', value }], body: { observedAt: AT, stringId, from: { footageMm: 20_000 + nth * 10 }, kind: 'dimensional', characteristic, value, unit: 'mm', verdict: 'for-evaluation' } };
  },
};

const RUNNING_FROM = '2030-01-01T00:00:00Z';

const SHIFTS: UnlikelyKind = {
  path: 'shifts', amendment: NOTED,
  /** A shift that runs on: who is on it is on two at once in every one after it. */
  prepare: async (bench, { stringId, mateId }) => [await bench.made('shifts', { stringId, name: 'never ended', observedAt: RUNNING_FROM, crew: [{ personId: mateId, duty: 'Shift lead' }] })],
  draw: ({ otherStringId, personId, mateId }, nth, dice) => {
    const [isLong, isTwice] = dice.of([[true, false], [false, true], [true, true]] as const);
    // Days of its own for each, so that nobody is on two of these.
    const observedAt = later(isTwice ? RUNNING_FROM : '1990-01-01T06:00:00Z', nth * 10 * 24 * 60);
    const until = later(observedAt, isLong ? 24 * 60 + 1 + dice.roll(3000) : 1 + dice.roll(24 * 60));
    const crew = [{ personId, duty: 'Shift lead' }, ...(isTwice ? [{ personId: mateId, duty: 'Line operator' }] : [])];
    const asked = [...(isLong ? [{ field: 'until', value: normal(until) }] : []), ...(isTwice ? [{ field: 'crew[1].personId', value: mateId }] : [])];
    return { asked, body: { stringId: otherStringId, name: `shift ${nth}`, observedAt, until, crew } };
  },
};

/** The world's shift is on 2 March 2026, from 06:00 up to 18:00. */
const outsideShift = (dice: Dice): string => dice.of([later('2026-03-02T06:00:00Z', -1 - dice.roll(5000)), later('2026-03-02T18:00:00Z', dice.roll(5000))]);

const EVENTS: UnlikelyKind = {
  path: 'shift-events', amendment: { text: 'Inspector at the line until noon' },
  draw: ({ stringId, shiftId }, _, dice) => {
    const observedAt = outsideShift(dice);
    return { asked: [{ field: 'observedAt', value: normal(observedAt) }], body: { observedAt, stringId, shiftId, category: 'visitor', text: 'Inspector at the line' } };
  },
};

const HANDOVERS: UnlikelyKind = {
  path: 'handovers', amendment: NOTED,
  draw: ({ stringId, shiftId, nextShiftId }, _, dice) => {
    const [isEarly, isBackwards] = dice.of([[true, false], [false, true], [true, true]] as const);
    // The later shift hands over to the earlier one where times go backwards; it begins a day later.
    const [gives, takes, begins] = isBackwards ? [nextShiftId, shiftId, '2026-03-03T06:00:00Z'] : [shiftId, nextShiftId, '2026-03-02T06:00:00Z'];
    const observedAt = later(begins, isEarly ? -1 - dice.roll(5000) : dice.roll(5000));
    const asked = [...(isEarly ? [{ field: 'observedAt', value: normal(observedAt) }] : []), ...(isBackwards ? [{ field: 'nextShiftId', value: takes }] : [])];
    return { asked, body: { observedAt, stringId, shiftId: gives, nextShiftId: takes, items: [{ words: 'Film unclear' }] } };
  },
};

const GIVEN_AT = '2026-03-02T17:50:00Z';

const ACCEPTANCES: UnlikelyKind = {
  path: 'handover-acceptances', amendment: NOTED,
  prepare: async (bench, { stringId, shiftId, nextShiftId }, count) => {
    const ids: string[] = [];
    while (ids.length < count) ids.push(await bench.made('handovers', { stringId, shiftId, nextShiftId, observedAt: GIVEN_AT, items: [{ words: 'Film unclear' }] }));
    return ids;
  },
  draw: ({ stringId, mateId }, nth, dice, handoverIds): UnlikelyEntry => {
    const observedAt = later(GIVEN_AT, -1 - dice.roll(5000));
    return { asked: [{ field: 'observedAt', value: normal(observedAt) }], body: { observedAt, stringId, handoverId: handoverIds[nth], handoverVersion: 1, doneBy: mateId, items: [{ item: 1, accepted: true }] } };
  },
};

/** Every kind of work on the pipe that asks. */
export const UNLIKELY_KINDS: readonly UnlikelyKind[] = [SPLICES, WELDS, SEAM_EVENTS, REPAIRS, INSPECTIONS, SHIFTS, EVENTS, HANDOVERS, ACCEPTANCES];

/** A kind of entry with a value beyond the limit of its specification: a true bad reading. */
export interface BadReadingKind {
  readonly path: string;
  readonly draw: (world: EntryWorld, nth: number, dice: Dice) => { readonly body: Fields; readonly field: string; readonly digits: string };
}

const reading = (path: string, field: string, digitsOf: (dice: Dice) => string, body: (world: EntryWorld, printed: string, nth: number) => Fields): BadReadingKind => ({
  path, draw: (world, nth, dice) => {
    const printed = digitsOf(dice);
    return { body: { observedAt: AT, ...body(world, printed, nth) }, field, digits: printed };
  },
});

export const BAD_READING_KINDS: readonly BadReadingKind[] = [
  reading('welds', 'readings[0].printed', (dice) => dice.of([digits(dice, 0, 180, 0.1), digits(dice, 220.1, 900, 0.1)]), ({ stringId, spliceId, spliceProcedureId }, printed) => ({
    stringId, spliceId, weldProcedureId: spliceProcedureId, readings: [{ variable: 'current', printed, unit: 'A' }], chosen: [{ choice: 'process', value: '135' }],
  })),
  reading('seam-events', 'readings[0].printed', (dice) => dice.of([digits(dice, 0, 160, 0.1), digits(dice, 200.1, 2000, 0.1)]), ({ stringId, seamProcedureId }, printed, nth) => ({
    stringId, from: { footageMm: 30_000 + nth * 10 }, event: 'set-up-change', weldProcedureId: seamProcedureId, readings: [{ variable: 'power', printed, unit: 'kW' }],
  })),
  reading('splice-steps', 'readings[0].printed', (dice) => digits(dice, 0.51, 9, 0.01), ({ stringId, spliceId }, printed) => ({
    stringId, spliceId, stage: 'preparation', outcome: 'accepted', readings: [{ measured: 'high-low', printed, unit: 'mm', max: '0.5' }], examinations: [], coupons: [], photoSha256s: [],
  })),
  reading('repairs', 'remainingWallMm', (dice) => digits(dice, 0.3, 4.5, 0.01), ({ stringId }, remainingWallMm, nth) => ({
    stringId, from: { footageMm: 30_000 + nth * 10 }, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.50', remainingWallMm, wallLimitMm: '4.50', readings: [], chosen: [], photoSha256s: [],
  })),
  reading('indication-evaluations', 'remainingWallMm', (dice) => digits(dice, 0.3, 4.49, 0.01), ({ stringId, indicationId }, remainingWallMm) => ({
    stringId, indicationId, relevant: true, remainingWallMm, limitText: 'Plan 6.2', limitMinWallMm: '4.50', verdict: 'cut-out', level: '2',
  })),
  reading('inspections', 'value', (dice) => dice.of([digits(dice, 0.3, 4.75, 0.01), digits(dice, 5.26, 40, 0.01)]), ({ stringId }, value, nth) => ({
    stringId, from: { footageMm: 30_000 + nth * 10 }, kind: 'dimensional', characteristic: 'wall thickness', value, unit: 'mm', limitMin: '4.75', limitMax: '5.25', verdict: 'for-evaluation',
  })),
  reading('destructive-tests', 'readings[0].printed', (dice) => digits(dice, 251, 900, 1), ({ stringId, sampleId }, printed) => ({
    stringId, testSampleId: sampleId, kind: 'hardness', method: 'ISO 6507-1', laboratory: 'Site laboratory', outcome: 'fail', readings: [{ name: 'weld metal', printed, unit: 'HV10', max: '250' }],
  })),
  reading('calibrations', 'asFound[0].deviation', (dice) => dice.of(['', '-']) + digits(dice, 0.006, 2, 0.001), ({ standardId }, deviation, nth) => ({
    observedAt: later(AT, nth * 60), instrumentId: standardId, certificateNumber: `CAL-B${nth}`, laboratory: 'Measuring room', decisionRule: 'simple-acceptance',
    asFound: [{ point: '5.00 mm', deviation, min: '-0.005', max: '0.005', unit: 'mm' }],
  })),
];
