import { describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { evidenceCsv } from './evidence-csv.js';
import type { EvidenceAnswer, EvidenceItemAnswer } from './evidence.dto.js';
import { anAnswer, at, onWall } from './evidence.factory.js';

const read = (answer: EvidenceAnswer): Record<string, string>[] => parse([...evidenceCsv(answer, at('09:00'))].join(''), { columns: true, record_delimiter: '\r\n' });

const ITEM: EvidenceItemAnswer = {
  plan: null, code: 'D-1', clause: '5.1, "note" 2', demands: 'dimension', at: 'pipe', states: [],
  stretches: [
    { fromMm: 0, toMm: 1, state: 'confirmed', late: true, otherwise: null, by: [1, 0] }, { fromMm: 1, toMm: 400, state: 'conceded', late: false, otherwise: 'failed', by: [0] },
    { fromMm: 400, toMm: 500, state: 'missing', late: false, otherwise: null, by: [] },
  ],
  testimonies: [
    { fromMm: 0, toMm: 400, says: 'confirmed', because: 'read, "twice"\nby lamp; dry', records: [{ kind: 'inspection', id: 'i1', version: 2, label: 'wall, "A"' }], enteredAt: at('06:00') },
    { fromMm: 0, toMm: 1, says: 'confirmed', because: 'seen', records: [{ kind: 'inspection', id: 'i1', version: 2, label: 'wall, "A"' }, { kind: 'weld', id: 'w', version: 1, label: 'W' }], enteredAt: at('06:00') },
  ],
};

describe('the evidence as CSV', () => {
  test('has the verdict by footage, then both walls by depth, then each item with what decides it', () => {
    const rows = read(anAnswer({
      verdict: [{ fromMm: 0, toMm: 500, state: 'missing', late: true, items: ['D-1', 'UT-1'] }], items: [ITEM],
      walls: [{ wall: 'outer', stretches: [onWall(1_000, 1_500, 'missing')] }, { wall: 'inner', stretches: [onWall(1_000, 1_500, 'failed')] }],
    }));
    expect(rows.map(({ what, wall, state }) => [what, wall, state])).toEqual([
      ['verdict', '', 'missing'], ['wall', 'outer', 'missing'], ['wall', 'inner', 'failed'], ['item', '', 'confirmed'], ['item', '', 'conceded'], ['item', '', 'missing'],
    ]);
    expect(rows[0]).toMatchObject({ md_from_m: '', footage_from_m: '0.000', footage_to_m: '0.500', item: 'D-1 UT-1', late: 'yes', because: '', as_known_at: at('09:00'), cautions: 'Mind this. And that.' });
    expect(rows[1]).toMatchObject({ md_from_m: '1.000', md_from_plus_minus_m: '0.012', md_to_m: '1.500', md_to_plus_minus_m: '0.015', footage_from_m: '7.000', footage_to_m: '7.500' });
  });

  test('keeps quotes, commas and line breaks in words, and names each record and each word once', () => {
    const [first, second, third] = read(anAnswer({ items: [ITEM] }));
    expect(first).toMatchObject({
      clause: '5.1, "note" 2', because: 'seen; read, "twice"\nby lamp; dry', records: 'inspection wall, "A", i1 version 2; weld W, w version 1', late: 'yes', otherwise: '', footage_from_m: '0.000', footage_to_m: '0.001',
    });
    expect(second).toMatchObject({ otherwise: 'failed', late: 'no', because: 'read, "twice"\nby lamp; dry' });
    expect(third).toMatchObject({ because: '', records: '' });
  });

  test('has a head alone where nothing was asked about, and no wall where nothing stands', () => {
    const text = [...evidenceCsv(anAnswer({}), at('09:00'))].join('');
    expect(text).toMatch(/^what,wall,md_from_m,[a-z_,]*cautions\r\n$/);
  });
});
