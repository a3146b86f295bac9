import { describe, expect, test } from '@jest/globals';
import { channelFaults, samplingOf, stationFindings } from './channel.rules.js';

type Said = Parameters<typeof channelFaults>[0];

const fields = (said: Partial<Said>): string[] =>
  channelFaults({ measures: 'eddy-current-amplitude', method: 'ET', sampling: { per: 'length', everyMm: '1.0' }, ...said }).map(({ field }) => field);

describe('what does not go together in a channel', () => {
  test('nothing, in one that says little, and in one that says all', () => {
    expect(fields({})).toEqual([]);
    expect(fields({
      clockFromDeg: '345', clockToDeg: '15', saturatesAt: { high: '100', low: '-100' }, plausible: { from: '0', to: '100' }, speedWindow: { fromMPerMin: '4', toMPerMin: '18' },
    })).toEqual([]);
  });

  test('an amplitude has a method, the process has none, and others may have one', () => {
    expect(fields({ method: null })).toEqual(['method']);
    for (const measures of ['weld-power', 'temperature', 'speed'] as const) {
      expect(fields({ measures })).toEqual(['method']);
      expect(fields({ measures, method: null })).toEqual([]);
    }
    for (const method of ['UT', null] as const) expect(fields({ measures: 'wall-thickness', method })).toEqual([]);
  });

  test('samples come by length or by time, with the step of just that', () => {
    expect(fields({ sampling: { per: 'length' } })).toEqual(['sampling.everyMm']);
    expect(fields({ sampling: { per: 'time', everyMm: '1' } })).toEqual(['sampling.everyMs', 'sampling.everyMm']);
    expect(fields({ sampling: { per: 'time', everyMs: '20', everyMm: '1' } })).toEqual(['sampling.everyMm']);
    expect(samplingOf({ per: 'time', everyMs: '20', everyMm: null })).toEqual({ per: 'time', everyMs: '20' });
    expect(samplingOf({ per: 'length', everyMm: '1.0' })).toEqual({ per: 'length', everyMm: '1.0' });
  });

  test('ranges rise, by their values and not by their digits', () => {
    expect(fields({ saturatesAt: { high: '9', low: '10' } })).toEqual(['saturatesAt.high']);
    expect(fields({ plausible: { from: '5.0', to: '5' } })).toEqual(['plausible.to']);
    expect(fields({ plausible: { from: '5.0', to: '5.1' } })).toEqual([]);
    expect(fields({ speedWindow: { fromMPerMin: '18', toMPerMin: '4' } })).toEqual(['speedWindow.toMPerMin']);
    expect(fields({ plausible: { to: '5' }, saturatesAt: { low: '7' } })).toEqual([]);
  });

  test('half of what it sees around the pipe', () => {
    expect(fields({ clockFromDeg: '345' })).toEqual(['clockToDeg']);
    expect(fields({ clockToDeg: '15' })).toEqual(['clockFromDeg']);
  });
});

test('a station that no set-up has is noted, and the weld point needs none', () => {
  expect(stationFindings('eddy head', ['wall gauge', 'eddy head'])).toEqual([]);
  expect(stationFindings(null, [])).toEqual([]);
  expect(stationFindings('Eddy head', ['eddy head'])).toMatchObject([{ tier: 'noted', field: 'station', value: 'Eddy head' }]);
});
