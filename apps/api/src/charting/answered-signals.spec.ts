import { expect, test } from '@jest/globals';
import { link, readingAt } from '../characteristics/characteristics.factory.js';
import type { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import { AnsweredSignals } from './answered-signals.js';

type Model = ConstructorParameters<typeof AnsweredSignals>[1];

const answers = (fromMm: number | null, toMm: number | null, changes: Partial<ChartReaction['answers'][number]> = {}): ChartReaction['answers'] => [{ panel: 'values', rule: 'one-beyond-3-sigma', fromMm, toMm, label: null, ...changes }];
const reaction = (id: string, changes: Partial<ChartReaction>): ChartReaction =>
  ({ id, version: 1, action: 'none-needed', observedAt: '2026-03-02T10:00:00.000000Z', knownFrom: '2026-03-02T10:05:00.000000Z', limitsId: 'l', answers: answers(20_000, 20_010), ...changes }) as ChartReaction;
/** Of what was read at ten past the hour named. */
const at = (fromMm: number | null, hour: string, label = ''): Parameters<AnsweredSignals['to']>[1] => {
  const reading = readingAt(fromMm, 5, { observedAt: `2026-03-02T${hour}:10:00.000000Z`, records: [link('r')] });
  return { shows: 'values', rule: 'oneBeyond3Sigma', at: { values: [5], of: null, beginsAnew: false, place: reading.place, label, coil: null, readings: [reading] } };
};
const answered = (rows: readonly ChartReaction[], signal: Parameters<AnsweredSignals['to']>[1], limitsId = 'l'): string[] => new AnsweredSignals(rows, {} as Model).to(limitsId, signal).map(({ id }) => id);

test('a signal is answered by its limits, panel, rule and place, or by what it is called where it has none', () => {
  const rows = [
    reaction('here', {}), reaction('elsewhere', { answers: answers(60_495, 60_510) }), reaction('other limits', { limitsId: 'm' }), reaction('other rule', { answers: answers(20_000, 20_010, { rule: 'six-steadily' }) }),
    reaction('all pipe', { answers: answers(0, 50_000) }), reaction('other panel', { answers: answers(20_000, 20_010, { panel: 'moving ranges' }) }), reaction('named', { answers: answers(null, null, { label: 'LM-09' }) }),
  ];
  expect([answered(rows, at(20_000, '09')), answered(rows, at(60_500, '09')), answered(rows, at(20_000, '09'), 'm'), answered(rows, at(null, '09', 'LM-09')), answered(rows, at(null, '09', 'LM-08'))]).toEqual([
    ['here'], ['elsewhere'], ['other limits'], ['named'], [],
  ]);
});

test('nothing answers what nobody could see yet when it was entered', () => {
  expect([answered([reaction('early', {})], at(20_000, '10')), answered([reaction('late', { knownFrom: '2026-03-02T10:10:00.000000Z' })], at(20_000, '10'))]).toEqual([[], ['late']]);
});
