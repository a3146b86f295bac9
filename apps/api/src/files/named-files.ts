import type { Transaction } from '#libs/persistence';
import { isSha256 } from '../http/fields.js';
import { refusedField, together, type FieldProblem } from '../http/problem.js';
import type { StoredFiles } from './stored-files.service.js';

/** A file that a field of a record names. */
export interface NamedFile {
  readonly field: string;
  readonly sha256: string;
}

/** The photos of a record, each with the field that names it. */
export const photosOf = (photoSha256s: readonly string[]): NamedFile[] =>
  photoSha256s.map((sha256, index) => ({ field: `photoSha256s[${index}]`, sha256 }));

/** Names that are no file's. */
export const impossibleFiles = (named: readonly NamedFile[]): FieldProblem[] => named.flatMap(({ field, sha256 }) =>
  (isSha256(sha256) ? [] : [{ field, value: sha256, limit: 'a SHA-256: 64 hexadecimal digits in lower case' }]));

/** Refuses with 422 a file that is not here. */
export async function demandFiles(tx: Transaction, files: StoredFiles, named: readonly NamedFile[]): Promise<void> {
  await together(named.map(async ({ field, sha256 }) => {
    if ((await files.find(sha256, tx.manager)) === null) throw refusedField('unknown-reference', field, sha256, 'the SHA-256 of a file sent to /api/files before');
  }));
}
