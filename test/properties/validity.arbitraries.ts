import fc from 'fast-check';
import type { Calibration, EventVariable, PointReading, Qualification, QualifiedEvent, ScopeItem } from '#libs/validity';
import { CALENDAR, dayAfter, instantOnTheWall, type PlainCalibration } from './validity.reference.js';

const FIRST_PLACE = CALENDAR.indexOf('2026-01-01');

/** A day of 2026 to 2028, ends of months often. */
export const day: fc.Arbitrary<string> = fc.oneof(
  fc.integer({ min: FIRST_PLACE, max: FIRST_PLACE + 900 }).map((place) => CALENDAR[place]!),
  fc.constantFrom('2026-01-31', '2026-02-28', '2026-08-30', '2026-08-31', '2027-02-28', '2027-03-01', '2028-02-29', '2028-03-01'),
);
export const offsetMinutes = fc.oneof(fc.integer({ min: -840, max: 840 }), fc.constantFrom(-840, -210, 0, 120, 345, 840));

/** A moment on a day of the wall calendar; its first and last minute often. */
export function momentOn(local: string): fc.Arbitrary<{ instant: string; offsetMinutes: number }> {
  const minute = fc.oneof(fc.integer({ min: 0, max: 1439 }), fc.constantFrom(0, 1439));
  const seconds = fc.constantFrom('00', '00.000001', '30.5', '59.999999');
  return fc.tuple(minute, seconds, offsetMinutes).map(([at, text, offset]) => ({ instant: instantOnTheWall(local, at, text, offset), offsetMinutes: offset }));
}

const dayPair = fc.tuple(day, day).map(([a, b]) => (a <= b ? [a, b] as const : [b, a] as const));
const period = fc.tuple(dayPair, fc.boolean()).map(([[from, until], isOpen]) => ({ from, until: isOpen ? null : until }));
const days = fc.array(day, { maxLength: 5 });
const millimetres = fc.integer({ min: 0, max: 400 }).map((units) => (units / 100).toFixed(2));

const thickness: fc.Arbitrary<ScopeItem> = fc.tuple(millimetres, millimetres, fc.constantFrom('both', 'min', 'max')).map(([a, b, ends]) => {
  const [low, high] = Number(a) <= Number(b) ? [a, b] : [b, a];
  return { kind: 'range', name: 'thickness', min: ends === 'max' ? null : low, max: ends === 'min' ? null : high, unit: 'mm' };
});
const position: fc.Arbitrary<ScopeItem> = fc.subarray(['PA', 'PC', 'PF'], { minLength: 1 }).map((values) => ({ kind: 'list', name: 'position', values }));

export const qualification: fc.Arbitrary<Qualification> = fc.record({
  id: fc.uuid(),
  methods: fc.subarray(['135', '141', 'UT'], { minLength: 2 }),
  level: fc.constantFrom(null, 1, 2, 3, 3),
  scope: fc.tuple(fc.oneof(fc.constant(null), thickness), fc.oneof(fc.constant(null), position)).map((items) => items.filter((item) => item !== null)),
  runs: fc.oneof(period, period.map(({ until }) => ({ from: '2025-12-31', until }))),
  confirmation: fc.option(fc.record({ everyMonths: fc.integer({ min: 1, max: 12 }), confirmedOn: days, lateConfirmation: fc.constantFrom('revives', 'ends') })),
  authorisations: fc.oneof(fc.constant(null), fc.array(period, { maxLength: 3 })),
  vision: fc.oneof(fc.constant(null), fc.record({ everyMonths: fc.integer({ min: 6, max: 24 }), testedOn: days })),
  withdrawn: fc.oneof({ arbitrary: fc.constant(null), weight: 5 }, { arbitrary: day.map((on) => ({ on, reason: 'drawn' })), weight: 1 }),
}).map(({ runs, ...rest }) => ({ ...rest, startsOn: runs.from, expiresOn: runs.until }));

const variables: fc.Arbitrary<EventVariable[]> = fc.tuple(
  fc.option(fc.record({ name: fc.constant('thickness'), value: millimetres, unit: fc.constantFrom('mm', 'mm', 'mm', 'mm', 'mm', null) }), { freq: 12 }),
  fc.option(fc.record({ name: fc.constant('position'), value: fc.constantFrom('PA', 'PC', 'PF', 'pa'), unit: fc.constant(null) }), { freq: 12 }),
).map((both) => both.filter((one) => one !== null));

const work = fc.record({ method: fc.option(fc.constantFrom('135', '141', 'UT'), { freq: 20 }), level: fc.constantFrom(null, null, null, 1, 2), variables });

export const event: fc.Arbitrary<QualifiedEvent> = fc.tuple(day.chain(momentOn), work).map(([moment, what]) => ({ ...moment, ...what }));

/** A qualification with an event on, before or after one of its own days, or anywhere; its work is in scope where `fits`. */
export function qualificationAndEvent(fits: boolean): fc.Arbitrary<[Qualification, QualifiedEvent]> {
  return qualification.chain((drawn) => {
    const given = fits ? { ...drawn, methods: ['135'], scope: [] } : drawn;
    const own = [
      given.startsOn, given.expiresOn ?? given.startsOn, given.withdrawn?.on ?? given.startsOn, ...given.confirmation?.confirmedOn ?? [],
      ...given.vision?.testedOn ?? [],
    ];
    const near = fc.tuple(fc.constantFrom(...own), fc.integer({ min: -1, max: 1 })).map(([one, step]) => dayAfter(one, step));
    const moment = fc.oneof(near, day).chain(momentOn);
    const what = fits ? fc.constant({ method: '135', level: null, variables: [] }) : work;
    return fc.tuple(fc.constant(given), fc.tuple(moment, what).map(([at, done]) => ({ ...at, ...done })));
  });
}

const TOLERANCE = 3;
const deviations = fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 1, maxLength: 3 });

const plainCalibration: fc.Arbitrary<PlainCalibration> = fc.record({
  hour: fc.integer({ min: 0, max: 300 }),
  found: fc.option(deviations, { freq: 3 }),
  left: fc.option(fc.oneof(fc.constant([0]), deviations)),
  accepted: fc.constantFrom(TOLERANCE, TOLERANCE, TOLERANCE - 1),
  dueOn: fc.option(fc.integer({ min: 0, max: 12 }).map((later) => dayAfter('2026-01-01', later))),
}).map((one) => (one.found === null && one.left === null ? { ...one, left: [0] } : one));

export const plainCalibrations = fc.uniqueArray(plainCalibration, { selector: ({ hour }) => hour, maxLength: 6 });
export const anotherCalibration = plainCalibration;

/** The instant so many whole hours after the beginning of 2026. */
export function instantOf(hour: number, fraction = '.0'): string {
  return `${dayAfter('2026-01-01', Math.floor(hour / 24))}T${String(hour % 24).padStart(2, '0')}:00:00${fraction}Z`;
}

/** The same in the library's form. What is accepted below the tolerance is a guard band. */
export function calibrationOf({ hour, found, left, accepted, dueOn }: PlainCalibration): Calibration {
  const pointsOf = (values: readonly number[]): PointReading[] => values.map((value, index) => ({
    point: `point ${index}`, deviation: (value / 100).toFixed(2), min: '-0.03', max: '0.03', unit: 'mm', expandedU: '0.01',
  }));
  return {
    id: `cal ${hour}`, instant: instantOf(hour), offsetMinutes: 0, dueOn,
    asFound: found === null ? 'not-taken' : pointsOf(found),
    asLeft: left === null ? 'not-adjusted' : pointsOf(left),
    rules: { rounding: 'absolute', decision: accepted === TOLERANCE ? 'simple-acceptance' : 'guarded-acceptance', guardFactor: '1' },
  };
}
