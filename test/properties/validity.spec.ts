import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  bestQualification, dayNumber, dayText, doubtfulSpans, instrumentAt, localDay, marginAgainst, monthsLater, qualificationAt, unclosedSpans,
} from '#libs/validity';
import { seedFromEnvironment } from '../setup/seed.js';
import {
  anotherCalibration, calibrationOf, day, event, instantOf, momentOn, offsetMinutes, plainCalibrations, qualification, qualificationAndEvent,
} from './validity.arbitraries.js';
import {
  CALENDAR, dayAfter, dayOnTheWall, instantOnTheWall, instrumentStatesOn, isInDoubt, lastGoodDay, lifeOf, namesOutOfScope, type PlainCalibration,
  sameDateMonthsOn, timeStatesOn, wasFoundGood,
} from './validity.reference.js';

function check<T extends unknown[]>(property: fc.IProperty<T>, numRuns = 500): void {
  fc.assert(property, { ...seedFromEnvironment(), numRuns });
}

const shuffledOf = <T>(list: readonly T[]): fc.Arbitrary<T[]> => fc.shuffledSubarray([...list], { minLength: list.length, maxLength: list.length });
const PLAIN = {
  id: 'a', methods: ['135'], level: null, scope: [], expiresOn: null, confirmation: null, authorisations: null, vision: null, withdrawn: null,
};
const WORK = { method: '135', level: null, variables: [] };

describe('days', () => {
  test('are numbered one by one', () => {
    const first = dayNumber(CALENDAR[0]!);
    expect(CALENDAR.map(dayNumber)).toEqual(CALENDAR.map((_day, place) => first + place));
    expect(CALENDAR.map((_day, place) => dayText(first + place))).toEqual(CALENDAR);
  });

  test('months later are as counted month by month, and a later day is never earlier by it', () => {
    check(fc.property(day, day, fc.integer({ min: 0, max: 60 }), (one, other, months) => {
      expect(monthsLater(one, months)).toBe(sameDateMonthsOn(one, months));
      const [earlier, later] = [one, other].sort();
      expect(monthsLater(earlier!, months) <= monthsLater(later!, months)).toBe(true);
    }));
  });

  test('begin at local midnight, whatever the offset from UTC', () => {
    check(fc.property(day, offsetMinutes, (local, offset) => {
      expect(localDay({ instant: instantOnTheWall(local, 0, '00', offset), offsetMinutes: offset })).toBe(local);
      expect(localDay({ instant: instantOnTheWall(local, 1439, '59.999999', offset), offsetMinutes: offset })).toBe(local);
      expect(localDay({ instant: instantOnTheWall(dayAfter(local), 0, '00', offset), offsetMinutes: offset })).toBe(dayAfter(local));
    }));
  });

  test('are those of the wall calendar', () => {
    check(fc.property(day.chain(momentOn), (moment) => { expect(localDay(moment)).toBe(dayOnTheWall(moment)); }));
  });
});

describe('a qualification at an event', () => {
  test('has the reasons found by living through its days, and the gravest is its state', () => {
    check(fc.property(qualificationAndEvent(false), ([given, at]) => {
      const { state, reasons, because } = qualificationAt(given, at);
      const names = namesOutOfScope(given, at);
      const states = timeStatesOn(given, lifeOf(given, dayOnTheWall(at)), dayOnTheWall(at));
      if (names.size > 0) states.add('out-of-scope');
      expect(new Set(reasons.map((reason) => reason.state))).toEqual(states);
      expect(new Set(reasons.flatMap(({ scope }) => scope?.name ?? []))).toEqual(names);
      expect(state).toBe(reasons[0]?.state ?? 'valid');
      for (const { words } of reasons) expect(because).toContain(words);
    }));
  });

  test('stays valid to the day it names and no further, and names the lapses that are over', () => {
    check(fc.property(qualificationAndEvent(true), ([given, at]) => {
      const { state, validUntil, lapses } = qualificationAt(given, at);
      const local = dayOnTheWall(at);
      expect(validUntil).toBe(state === 'valid' ? lastGoodDay(given, local) : null);
      expect(lapses).toEqual(lifeOf(given, local).lapses);
    }));
  });

  test('is valid through the whole of the last day printed, local time, and not a microsecond longer', () => {
    check(fc.property(day, offsetMinutes, fc.integer({ min: 0, max: 1439 }), (last, offset, minute) => {
      const given = { ...PLAIN, startsOn: '2025-01-01', expiresOn: last };
      const stateAt = (instant: string) => qualificationAt(given, { instant, offsetMinutes: offset, ...WORK }).state;
      expect(stateAt(instantOnTheWall(last, minute, '00', offset))).toBe('valid');
      expect(stateAt(instantOnTheWall(last, 1439, '59.999999', offset))).toBe('valid');
      expect(stateAt(instantOnTheWall(dayAfter(last), 0, '00', offset))).toBe('expired');
    }));
  });

  test('does not depend on the order of its lists', () => {
    const shuffled = qualificationAndEvent(false).chain(([given, at]) => fc.record({
      given: fc.constant(given),
      at: fc.constant(at),
      variables: shuffledOf(at.variables),
      confirmedOn: shuffledOf(given.confirmation?.confirmedOn ?? []),
      testedOn: shuffledOf(given.vision?.testedOn ?? []),
      authorisations: shuffledOf(given.authorisations ?? []),
    }));
    check(fc.property(shuffled, ({ given, at, variables, confirmedOn, testedOn, authorisations }) => {
      const other = {
        ...given,
        confirmation: given.confirmation && { ...given.confirmation, confirmedOn },
        vision: given.vision && { ...given.vision, testedOn },
        authorisations: given.authorisations && authorisations,
      };
      expect(qualificationAt(other, { ...at, variables })).toEqual(qualificationAt(given, at));
    }));
  });

  test('a confirmation more never makes an event invalid, and changes nothing before its own day', () => {
    check(fc.property(qualificationAndEvent(true), day, ([given, at], confirmed) => {
      fc.pre(given.confirmation !== null);
      const { confirmation } = given;
      const more = { ...given, confirmation: { ...confirmation, confirmedOn: [...confirmation.confirmedOn, confirmed] } };
      const [before, after] = [qualificationAt(given, at), qualificationAt(more, at)];
      if (before.state === 'valid') expect(after.state).toBe('valid');
      if (dayOnTheWall(at) < confirmed) expect(after.reasons.map(({ state }) => state)).toEqual(before.reasons.map(({ state }) => state));
    }));
  });

  test('a confirmation missed and then made: not valid between, and then valid again or never', () => {
    const drawn = fc.record({
      startsOn: day,
      everyMonths: fc.integer({ min: 1, max: 12 }),
      late: fc.integer({ min: 2, max: 60 }),
      offset: offsetMinutes,
      lateConfirmation: fc.constantFrom('revives' as const, 'ends' as const),
    });
    check(fc.property(drawn, ({ startsOn, everyMonths, late, offset, lateConfirmation }) => {
      const through = sameDateMonthsOn(startsOn, everyMonths);
      const madeOn = dayAfter(through, late);
      const given = { ...PLAIN, startsOn, confirmation: { everyMonths, confirmedOn: [madeOn], lateConfirmation } };
      const at = (local: string, minute: number, seconds: string) => {
        return qualificationAt(given, { instant: instantOnTheWall(local, minute, seconds, offset), offsetMinutes: offset, ...WORK });
      };
      expect(at(through, 1439, '59.999999').state).toBe('valid');
      expect(at(dayAfter(through), 0, '00').state).toBe('unconfirmed');
      expect(at(dayAfter(madeOn, -1), 1439, '59.999999').state).toBe('unconfirmed');
      const made = at(madeOn, 0, '00');
      expect(made.state).toBe(lateConfirmation === 'revives' ? 'valid' : 'unconfirmed');
      if (lateConfirmation === 'revives') expect(made.because).toContain(`it had lapsed, unconfirmed, from ${dayAfter(through)} to ${dayAfter(madeOn, -1)}`);
    }));
  });
});

describe('the best of several qualifications', () => {
  const several = fc.uniqueArray(qualification, { selector: ({ id }) => id, maxLength: 5 });

  test('covers the event when any does, for as long as any does', () => {
    check(fc.property(several, event, (list, at) => {
      const best = bestQualification(list, at);
      const answers = list.map((given) => qualificationAt(given, at));
      const valid = answers.filter(({ state }) => state === 'valid');
      expect(best.found).toBe(list.length === 0 ? 'none' : valid.length > 0 ? 'covering' : 'nearest');
      if (best.found === 'none') return;
      expect(best.answer).toEqual(qualificationAt(list.find(({ id }) => id === best.id)!, at));
      if (best.found === 'covering') {
        for (const { validUntil } of valid) expect(best.answer.validUntil === null || (validUntil !== null && validUntil <= best.answer.validUntil)).toBe(true);
      }
    }));
  });

  test('does not depend on the order', () => {
    check(fc.property(several.chain((list) => fc.tuple(fc.constant(list), shuffledOf(list))), event, ([list, other], at) => {
      expect(bestQualification(other, at)).toEqual(bestQualification(list, at));
    }));
  });
});

const hour = fc.integer({ min: 0, max: 320 });

/** How many spans hold an hour; each begins and ends at a calibration, which are on whole hours. */
function spanCounter(list: readonly PlainCalibration[]): (at: number) => number {
  const spans = doubtfulSpans(list.map(calibrationOf));
  return (at) => {
    const instant = instantOf(at, '.000000');
    return spans.filter(({ from, to }) => (from === null || from <= instant) && instant < to).length;
  };
}

describe('an instrument at an event', () => {
  test('has the reasons found by looking at every calibration', () => {
    check(fc.property(plainCalibrations, hour, offsetMinutes, (list, at, offset) => {
      const moment = { instant: instantOf(at), offsetMinutes: offset };
      const { state, reasons } = instrumentAt(list.map(calibrationOf), moment);
      expect(new Set(reasons.map((reason) => reason.state))).toEqual(instrumentStatesOn(list, at, dayOnTheWall(moment)));
      expect(state).toBe(reasons[0]?.state ?? 'good');
    }));
  });

  test('is not found out before the finding is known', () => {
    check(fc.property(plainCalibrations, hour, (list, at) => {
      const known = list.filter((one) => one.hour <= at).map(calibrationOf);
      expect(instrumentAt(known, { instant: instantOf(at), offsetMinutes: 0 }).reasons.map(({ state }) => state)).not.toContain('found-out');
    }));
  });

  test('does not depend on the order of the calibrations', () => {
    check(fc.property(plainCalibrations.chain((list) => fc.tuple(fc.constant(list), shuffledOf(list))), hour, ([list, other], at) => {
      const moment = { instant: instantOf(at), offsetMinutes: 0 };
      const [one, two] = [list, other].map((given) => given.map(calibrationOf));
      expect(instrumentAt(two!, moment)).toEqual(instrumentAt(one!, moment));
      expect([doubtfulSpans(two!), unclosedSpans(two!)]).toEqual([doubtfulSpans(one!), unclosedSpans(one!)]);
    }));
  });
});

describe('spans in doubt', () => {
  test('hold the hours that are in doubt, once each', () => {
    check(fc.property(plainCalibrations, fc.array(hour, { maxLength: 8 }), (list, others) => {
      const probes = [...others, ...list.flatMap((one) => [one.hour, Math.max(one.hour - 1, 0)])];
      const spansAt = spanCounter(list);
      for (const at of probes) expect(spansAt(at)).toBe(isInDoubt(list, at) ? 1 : 0);
    }));
  });

  test('an as-found in tolerance more never adds doubt, however it was left', () => {
    check(fc.property(plainCalibrations, anotherCalibration.filter(wasFoundGood), fc.array(hour, { minLength: 1, maxLength: 8 }), (list, another, probes) => {
      fc.pre(list.every((one) => one.hour !== another.hour));
      const [before, after] = [spanCounter(list), spanCounter([...list, another])];
      for (const at of [...probes, another.hour, Math.max(another.hour - 1, 0)]) expect(after(at)).toBeLessThanOrEqual(before(at));
    }));
  });

  test('name what was found, the greatest first, and weigh margins against it', () => {
    check(fc.property(plainCalibrations, fc.integer({ min: -60, max: 60 }), (list, thousandths) => {
      for (const span of doubtfulSpans(list.map(calibrationOf))) {
        const sizes = span.deviations.map(({ deviation }) => Math.abs(Math.round(Number(deviation) * 1000)));
        expect(sizes).toEqual(sizes.toSorted((a, b) => b - a));
        expect(span.deviations.map(({ timesTolerance }) => timesTolerance)).toEqual(sizes.map((size) => size / 30));
        const found = list.find((one) => `cal ${one.hour}` === span.foundBy)!;
        const worst = Math.max(...found.found!.map((one) => Math.abs(one) * 10));
        expect(sizes[0]).toBeGreaterThanOrEqual(worst);
        const margin = { value: (thousandths / 1000).toFixed(3), unit: 'mm' };
        expect(marginAgainst(span, margin)).toBe(Math.abs(thousandths) < sizes[0]! ? 'less-than-deviation' : 'enough');
      }
    }));
  });

  test('what no as-found closed is named, and nothing else', () => {
    check(fc.property(plainCalibrations, (list) => {
      const ends = list.filter(({ found }) => found === null).map((one) => one.hour).sort((a, b) => a - b);
      const spans = unclosedSpans(list.map(calibrationOf));
      expect(spans.map(({ to }) => to)).toEqual(ends.map((end) => instantOf(end, '.000000')));
      expect(spans.map(({ from }) => from)).toEqual(ends.map((end) => {
        const before = Math.max(...list.map((one) => one.hour).filter((one) => one < end));
        return before === -Infinity ? null : instantOf(before, '.000000');
      }));
    }));
  });
});
