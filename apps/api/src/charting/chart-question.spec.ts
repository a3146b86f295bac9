import { describe, expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { chartQuestionOf, trialQuestionOf } from './chart-question.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05';

const refused = (ask: () => unknown): string[] => {
  try {
    ask();
    return [];
  } catch (error) {
    return (error as Refused).errors.map(({ field }) => field).sort();
  }
};

describe('the question of a chart', () => {
  test('is of footage against the limits in force, unless it says otherwise', () => {
    expect(chartQuestionOf({ fromM: '0', toM: '12.5' })).toEqual({
      pipe: { by: 'footage', interval: { fromMm: 0, toMm: 12_500 }, shoeMdMm: null, at: null }, limits: 'in-force', removal: { places: [], labels: [] }, asKnownAt: null, paper: 'A4',
    });
    expect(chartQuestionOf({ by: 'coil', coilId: ID, limits: ID }).pipe).toEqual({ by: 'coil', coilId: ID });
    expect(chartQuestionOf({ by: 'time', fromTime: '2026-03-02T06:00:00Z', toTime: '2026-03-02T07:00:00Z' }).pipe).toEqual({ by: 'time', from: '2026-03-02T06:00:00Z', to: '2026-03-02T07:00:00Z' });
    expect(chartQuestionOf({ by: 'outer', fromM: '-3', toM: '5' }).pipe).toMatchObject({ by: 'outer', interval: { fromMm: -3_000, toMm: 5_000 } });
  });

  test('names points to remove on trial alone, by place and by label', () => {
    const trial = { fromM: '0', toM: '60', removeM: '12-15.5, 20.001-20.002', removeLabels: 'LM-03,LM-04' };
    expect(chartQuestionOf({ ...trial, limits: 'trial' }).removal).toEqual({ places: [{ fromMm: 12_000, toMm: 15_500 }, { fromMm: 20_001, toMm: 20_002 }], labels: ['LM-03', 'LM-04'] });
    expect(trialQuestionOf(trial).removal.places).toHaveLength(2);
    expect(refused(() => chartQuestionOf(trial))).toEqual(['removeLabels', 'removeM']);
  });

  test.each<[string, Record<string, string>, string[]]>([
    ['nothing', {}, ['fromM', 'toM']], ['a reversed interval', { fromM: '5', toM: '4' }, ['toM']], ['more than there can be', { fromM: '0', toM: '100001' }, ['toM']],
    ['footage below zero', { fromM: '-1', toM: '4' }, ['fromM']], ['a coil without its id', { by: 'coil' }, ['coilId']], ['what goes with another axis', { by: 'coil', coilId: ID, fromM: '0' }, ['fromM']],
    ['a time without its end', { by: 'time', fromTime: '2026-03-02T06:00:00Z' }, ['toTime']], ['a reversed time', { by: 'time', fromTime: '2026-03-02T06:00:00Z', toTime: '2026-03-02T06:00:00Z' }, ['toTime']],
    ['the shoe of the outer wall', { by: 'outer', fromM: '0', toM: '4', shoeMdM: '3' }, ['shoeMdM']], ['shoe and time', { by: 'inner', fromM: '0', toM: '4', shoeMdM: '3', at: '2026-03-02T06:00:00Z' }, ['shoeMdM']],
    ['limits by a number', { fromM: '0', toM: '4', limits: '1' }, ['limits']], ['an empty removal', { fromM: '0', toM: '4', limits: 'trial', removeM: '' }, ['removeM']],
    ['a removal without length', { fromM: '0', toM: '4', limits: 'trial', removeM: '3-3' }, ['removeM']], ['what nobody knows', { fromM: '0', toM: '4', sigma: '3' }, ['sigma']],
  ])('is refused with %s', (_, query, fields) => {
    expect(refused(() => chartQuestionOf(query))).toEqual(fields);
  });
});
