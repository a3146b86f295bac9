import { expect, test } from '@jest/globals';
import { DatabaseError } from 'pg';
import { QueryFailedError } from 'typeorm';
import { refusalOfDatabase } from './database-refusals.js';

/** What the database says with an SQLSTATE, as it arrives. */
function said(sqlState: string, message: string): Error {
  const error = Object.assign(new DatabaseError(message, 0, 'error'), { code: sqlState });
  return new QueryFailedError('insert', [], error);
}

test.each([
  ['EM011', 'unfit-decision', 'The decision is not taken: it says so.'],
  ['EM020', 'unfit-release', 'The release is not taken: it says so.'],
  ['EM021', 'unfit-limits', 'The limits are not taken: it says so.'],
])('%s is a conflict with a name of its own, in the words of the database', (sqlState, code, message) => {
  const refusal = refusalOfDatabase(said(sqlState, 'it says so'));
  expect(refusal).toMatchObject({ status: 409, code, message });
});

test('what no write should meet is a fault of ours', () => {
  expect(refusalOfDatabase(said('EM001', 'no actor'))).toBeNull();
  expect(refusalOfDatabase(new Error('anything'))).toBeNull();
});
