import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import { SAYINGS, type Saying, type Testimony } from '#libs/evidence';
import { isDemanded, type PlainHistory, type PlainItem, type PlainPlace, type PlainWord } from './evidence.reference.js';

export const PIPE_CELLS = 48;
const TICKS = 8;
/** Pipe and some cells beyond both of its ends. */
export const CELLS = Array.from({ length: PIPE_CELLS + 8 }, (_, nth) => nth - 4);

const placeOf = (longest: number): fc.Arbitrary<PlainPlace> =>
  fc.tuple(fc.integer({ min: -3, max: PIPE_CELLS }), fc.integer({ min: 1, max: longest })).map(([from, length]) => ({ from, to: from + length }));

export const ticks = fc.nat({ max: TICKS - 1 });

type PlainDraw = Omit<PlainWord, 'id'>;

/** A word of one of these sayings; its entry comes at any tick, so that lists are in no order of time. */
const saying = (says: readonly Saying[]): fc.Arbitrary<PlainDraw> => fc.oneof(placeOf(8), placeOf(PIPE_CELLS), fc.constant({ from: -3, to: PIPE_CELLS + 4 })).chain((place) => fc.record({
  from: fc.constant(place.from), to: fc.constant(place.to), enteredAt: ticks, says: fc.constantFrom(...says),
}));
const anyWord = saying(SAYINGS);
const named = (list: readonly PlainDraw[]): PlainWord[] => list.map((one, nth) => ({ ...one, id: `w${nth}` }));

/** Of everything; of proof alone; of what is not there yet; of all but failures: else what is bad or missing would decide nearly everywhere. */
const words = fc.oneof(...([[SAYINGS, 9], [['provisional', 'confirmed'], 4], [['awaited', 'waived'], 3], [['waived', 'suspect', 'provisional'], 4], [['confirmed', 'failed'], 3]] as const)
  .map(([says, maxLength]) => fc.array(saying(says), { minLength: 2, maxLength, size: 'max' })), fc.constant([])).map(named);

const item = fc.record({ where: fc.constantFrom<PlainItem['where']>('pipe', 'pipe', 'joints', 'ends'), words });
const items = fc.array(item, { minLength: 1, maxLength: 4, size: 'max' }).map((list): PlainItem[] => list.map((one, nth) => ({ ...one, key: `item ${nth}` })));

/** Whole, or cut once. */
export const pipes = fc.tuple(fc.nat({ max: 5 }), fc.integer({ min: 30, max: PIPE_CELLS }), fc.option(fc.tuple(fc.integer({ min: 6, max: 20 }), fc.integer({ min: 1, max: 9 })), { freq: 2 }))
  .map(([from, to, cut]): PlainPlace[] => (cut === null ? [{ from, to }] : [{ from, to: cut[0] }, { from: cut[0] + cut[1], to }]));

/** The line goes on, stands, and now and then goes back up. */
const passages = fc.array(fc.integer({ min: -4, max: 11 }), { minLength: TICKS, maxLength: TICKS }).map((steps) => {
  let cells = 0;
  return steps.map((step) => (cells = Math.max(0, cells + step)));
});

export const histories: fc.Arbitrary<PlainHistory> = fc.noBias(fc.record({
  pipe: pipes, joints: fc.array(placeOf(6), { maxLength: 3, size: 'max' }), endCells: fc.integer({ min: 1, max: 9 }), hungOff: passages, items,
}));
/** One more word, by a name that none has. */
export const furtherWord: fc.Arbitrary<PlainWord> = fc.noBias(anyWord).map((one) => ({ ...one, id: 'one more' }));
export const furtherWords: fc.Arbitrary<PlainWord[]> = fc.array(anyWord, { maxLength: 2, size: 'max' }).map((list) => named(list).map((one) => ({ ...one, id: `further ${one.id}` })));

export const setOf = (places: readonly PlainPlace[], cellMm: number): IntervalSet => IntervalSet.from(places.map(({ from, to }) => interval(from * cellMm, to * cellMm)));

export const demandedSet = (one: PlainItem, history: PlainHistory, cellMm: number): IntervalSet =>
  setOf(CELLS.filter((cell) => isDemanded(one, history, cell)).map((cell) => ({ from: cell, to: cell + 1 })), cellMm);

/** As the library takes it: the footage that was past the hang-off in place of the time. */
export function testimonyOf({ id, from, to, says, enteredAt }: PlainWord, { hungOff }: PlainHistory, cellMm: number): Testimony<string> {
  const onTimeFromMm = Math.max(...hungOff.slice(0, enteredAt + 1)) * cellMm;
  return { fromMm: from * cellMm, toMm: to * cellMm, says, onTimeFromMm, because: id, records: [id] };
}
