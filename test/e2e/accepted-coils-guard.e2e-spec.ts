import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { EntityManager } from 'typeorm';
import { sqlRefusal } from '#libs/persistence';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, evaluated, idOf, KNOWN_FROM, standRows, trial, type Columns } from '../setup/record-rows.js';
import { amend, another, CLOSED_AT, saidToBoth, type Work } from '../setup/row-trials.js';

const NOT_ACCEPTED = 'EM010';
const TAKEN = 'taken';

/** When the pipe of the segments and splices here was made. */
const MADE_AT = '2026-03-02T08:15:00Z';

let api: TestApi;

/** Rows of all kinds, and beside them a coil on which nothing was decided and another string. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'coil', 2, { number: 'LM-02' });
    await another(manager, 'casing_string', 2, { name: 'Another string' });
  });
});
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);

describe('pipe made of a coil', () => {
  const COIL = idOf('coil', 2);
  const SEGMENT = { coil_id: COIL, span: '[400000,500000)', strip_span: '[0,100000)', observed_at: MADE_AT };

  const permit = (manager: EntityManager, changes: Columns = {}): Promise<void> =>
    another(manager, 'deviation_permit', 2, { coil_id: COIL, for_string_id: null, ...changes });
  /** `decision` on the coil; the first of them unless `nth` says another. */
  const decide = (manager: EntityManager, decision: string, nth = 1): Promise<void> => {
    const limit = decision === 'accept-under-concession' ? 'This coil' : null;
    const row = { coil_id: COIL, sequence: String(nth), decision, concession_limit: limit, ...evaluated('conforms') };
    return another(manager, 'coil_decision', nth + 1, row);
  };
  const segment = (manager: EntityManager, changes: Columns = {}): Promise<void> => another(manager, 'coil_segment', 2, { ...SEGMENT, ...changes });
  const splice = (manager: EntityManager, changes: Columns): Promise<void> =>
    another(manager, 'splice', 2, { number: 'S-4', span: '[500000,500600)', ...changes });

  /** What a segment of the coil is answered after `before`. */
  const segmentAfter = (before: Work, changes: Columns = {}): Promise<string> =>
    said(async (manager) => {
      await before(manager);
      await segment(manager, changes);
    });

  test('is refused while nobody accepted or permitted it, in segments and in splices, and the refusal names the column', async () => {
    expect(await segmentAfter(() => Promise.resolve())).toBe(NOT_ACCEPTED);
    expect(await said((manager) => splice(manager, {}))).toBe(TAKEN);
    for (const column of ['leaving_coil_id', 'entering_coil_id']) {
      expect(await said((manager) => splice(manager, { [column]: COIL }))).toBe(NOT_ACCEPTED);
      expect(await said(async (manager) => {
        await permit(manager);
        await splice(manager, { [column]: COIL });
      })).toBe(TAKEN);
      expect(await namedIn((manager) => splice(manager, { [column]: COIL }))).toBe(`accepted_${column}`);
    }
    expect(await namedIn((manager) => segment(manager))).toBe('accepted_coil_id');
    // A void record says nothing of any pipe.
    expect(await segmentAfter(() => Promise.resolve(), { state: 'void' })).toBe(TAKEN);
  });

  test('is taken with a permit for any string or for this one, and refused with one for another string or another coil', async () => {
    expect(await segmentAfter((manager) => permit(manager))).toBe(TAKEN);
    expect(await segmentAfter((manager) => permit(manager, { for_string_id: idOf('casing_string') }))).toBe(TAKEN);
    expect(await segmentAfter((manager) => permit(manager, { for_string_id: idOf('casing_string', 2) }))).toBe(NOT_ACCEPTED);
    expect(await segmentAfter((manager) => permit(manager, { coil_id: idOf('coil') }))).toBe(NOT_ACCEPTED);
  });

  test('is refused from the moment at which the permit has run out', async () => {
    expect(await segmentAfter((manager) => permit(manager, { valid_until: '2026-03-02T08:15:00.000001Z' }))).toBe(TAKEN);
    expect(await segmentAfter((manager) => permit(manager, { valid_until: MADE_AT }))).toBe(NOT_ACCEPTED);
    expect(await segmentAfter((manager) => permit(manager, { valid_until: '2026-03-01T00:00:00Z' }))).toBe(NOT_ACCEPTED);
  });

  test('is refused with a permit that is void or was amended to end before', async () => {
    expect(await segmentAfter((manager) => permit(manager, { state: 'void' }))).toBe(NOT_ACCEPTED);
    const amended = (changes: Columns): Promise<string> => segmentAfter(async (manager) => {
      await permit(manager);
      await amend(manager, 'deviation_permit', 2, { coil_id: COIL, for_string_id: null, ...changes });
    });
    expect(await amended({})).toBe(TAKEN);
    expect(await amended({ state: 'void' })).toBe(NOT_ACCEPTED);
    expect(await amended({ valid_until: MADE_AT })).toBe(NOT_ACCEPTED);
    expect(await amended({ for_string_id: idOf('casing_string', 2) })).toBe(NOT_ACCEPTED);
  });

  test('is taken when the last decision accepts it, and refused when it does not', async () => {
    const usable = ['accept', 'accept-under-concession'];
    for (const first of ['hold', 'accept', 'accept-under-concession', 'reject', 'return']) {
      expect({ first, heard: await segmentAfter((manager) => decide(manager, first)) })
        .toEqual({ first, heard: usable.includes(first) ? TAKEN : NOT_ACCEPTED });
      for (const last of ['hold', 'accept', 'accept-under-concession', 'reject', 'return']) {
        const heard = await segmentAfter(async (manager) => {
          await decide(manager, first);
          await decide(manager, last, 2);
        });
        expect({ first, last, heard }).toEqual({ first, last, heard: usable.includes(last) ? TAKEN : NOT_ACCEPTED });
      }
    }
  });

  test('is taken with a permit given after a decision against the coil, and refused with one that the decision ended', async () => {
    const after = (knownFrom: string): Promise<string> => segmentAfter(async (manager) => {
      await decide(manager, 'hold');
      await permit(manager, { known_from: knownFrom });
    });
    expect(await after(CLOSED_AT)).toBe(TAKEN);
    expect(await after(KNOWN_FROM)).toBe(NOT_ACCEPTED);
    // Amended since, it is still the permit that the decision ended.
    expect(await segmentAfter(async (manager) => {
      await decide(manager, 'reject');
      await permit(manager, { known_from: KNOWN_FROM });
      await amend(manager, 'deviation_permit', 2, { coil_id: COIL, for_string_id: null, note: 'Spelling' });
    })).toBe(NOT_ACCEPTED);
  });

  test('is refused when it was made before the permit was given', async () => {
    expect(await segmentAfter((manager) => permit(manager, { observed_at: MADE_AT }))).toBe(TAKEN);
    expect(await segmentAfter((manager) => permit(manager, { observed_at: '2026-03-02T08:15:00.000001Z' }))).toBe(NOT_ACCEPTED);
  });

  test('that stands is not moved by a later hold or rejection, nor when the permit is withdrawn', async () => {
    for (const later of ['hold', 'reject', 'return']) {
      const heard = await said(async (manager) => {
        await decide(manager, 'accept');
        await segment(manager);
        await splice(manager, { leaving_coil_id: COIL, entering_coil_id: COIL });
        await decide(manager, later, 2);
        await amend(manager, 'coil_segment', 2, { ...SEGMENT, note: 'Read again' });
        await amend(manager, 'splice', 2, { number: 'S-4', span: '[500000,500600)', leaving_coil_id: COIL, entering_coil_id: COIL, note: 'Read again' });
      });
      expect({ later, heard }).toEqual({ later, heard: TAKEN });
    }
    expect(await said(async (manager) => {
      await permit(manager);
      await segment(manager);
      await amend(manager, 'deviation_permit', 2, { coil_id: COIL, for_string_id: null, state: 'void' });
      await amend(manager, 'coil_segment', 2, { ...SEGMENT, note: 'Read again' });
    })).toBe(TAKEN);
  });

  test('is asked about again when an amendment names the coil for the first time', async () => {
    const renamed = (before: Work): Promise<string> => said(async (manager) => {
      await segment(manager, { coil_id: idOf('coil'), strip_span: '[200000,300000)' });
      await before(manager);
      await amend(manager, 'coil_segment', 2, SEGMENT);
    });
    expect(await renamed(() => Promise.resolve())).toBe(NOT_ACCEPTED);
    expect(await renamed((manager) => permit(manager))).toBe(TAKEN);
    // The other coil of a splice stays as it is.
    expect(await said(async (manager) => {
      await splice(manager, {});
      await amend(manager, 'splice', 2, { number: 'S-4', span: '[500000,500600)', entering_coil_id: COIL });
    })).toBe(NOT_ACCEPTED);
  });

  /** The constraint that a refusal names. */
  async function namedIn(work: Work): Promise<string | null | undefined> {
    let named: string | null | undefined;
    await trial(api.dataSource, (manager) => work(manager).catch((error: unknown) => {
      named = sqlRefusal(error)?.constraint;
      throw error;
    }));
    return named;
  }
});
