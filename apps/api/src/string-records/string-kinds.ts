import { StringRecordVersion, type RecordVersion } from '#libs/persistence';
import { NONCONFORMANCES, PERSONS_OTHERS, PERSONS_PLACED, PERSONS_WELDS, type RecordKind } from '../recall/record-kinds.js';

/** A line computer names its string, but is no record of it, and not everybody may read it. */
const NO_RECORD = 'device';

const ALL: readonly RecordKind<RecordVersion>[] = [...PERSONS_PLACED, ...PERSONS_WELDS, ...PERSONS_OTHERS, NONCONFORMANCES];

/** Every kind of record that belongs to one casing string, and nonconformances, which may. */
export const STRING_KINDS: readonly RecordKind<RecordVersion>[] = ALL.filter(
  ({ kind, entity }) => (entity.prototype instanceof StringRecordVersion && kind !== NO_RECORD) || kind === NONCONFORMANCES.kind,
);

/** The string itself as a kind of record. */
export const STRING_KIND: RecordKind<RecordVersion> | undefined = ALL.find(({ kind }) => kind === 'casing-string');

/** Their names, as links say them. */
export const STRING_KIND_NAMES: readonly string[] = STRING_KINDS.map(({ kind }) => kind);

/** What is counted by kind, in the order of the kinds' names. */
export const byKind = (one: { readonly kind: string }, other: { readonly kind: string }): number => (one.kind < other.kind ? -1 : 1);
