import { describe, expect, test } from '@jest/globals';
import type { EvidenceItemAnswer } from './evidence.dto.js';
import { anAnswer } from './evidence.factory.js';
import { evidenceJson } from './evidence-json.js';

const item = (code: string): EvidenceItemAnswer => ({
  plan: null, code, clause: 'a "clause"', demands: null, at: null, states: [], stretches: [{ fromMm: 0, toMm: 10, state: 'missing', late: false, otherwise: null, by: [] }],
  testimonies: [{ fromMm: 0, toMm: 10, says: 'awaited', because: 'not yet – ± λ', records: [], enteredAt: null }],
});

describe('an answer as JSON', () => {
  test('is what JSON.stringify writes, without items, with one and with several', () => {
    for (const items of [[], [item('A')], [item('A'), item('B')]]) {
      const answer = anAnswer({ items });
      expect(evidenceJson(answer).toString()).toBe(JSON.stringify(answer));
    }
  });

  test('has an item as it was written before, and another one like it written anew', () => {
    const [kept, other] = [item('A'), item('A')];
    const before = evidenceJson(anAnswer({ items: [kept] }));
    kept.code = 'B';
    other.code = 'B';
    expect(evidenceJson(anAnswer({ items: [kept] })).equals(before)).toBe(true);
    expect(evidenceJson(anAnswer({ items: [other] })).toString()).toBe(JSON.stringify(anAnswer({ items: [other] })));
  });
});
