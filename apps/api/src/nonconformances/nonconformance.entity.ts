import { Check, Column } from 'typeorm';
import type { Interval } from '#libs/intervals';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { GivenInterval, RestsOn } from '../line/given-place.js';

/** A part of a coil's strip, from its head, mm; half-open. */
export interface CoilExtent {
  readonly coilId: string;
  /** Null: from the head. */
  readonly stripFromMm: number | null;
  /** Null: to the tail. */
  readonly stripToMm: number | null;
}

/** What was asked for and not met. */
export interface Requirement {
  readonly document: string;
  readonly revision: string;
  readonly clause: string;
  readonly limit: string;
}

/** What was found: a value with its digits as read, or words, or both. */
export interface Found {
  readonly value: string | null;
  readonly text: string | null;
  readonly unit: string | null;
  readonly uncertainty: string | null;
  readonly method: string;
  readonly instrument: string;
  readonly at: string;
  readonly by: string;
}

/** What was done at once so that no more of it goes on. */
export interface Containment {
  readonly action: string;
  readonly footageMm: number | null;
  readonly at: string;
  readonly by: string;
}

export const DISPOSITION_KINDS = [
  'rework', 'repair', 'use-as-is-under-concession', 'regrade', 'reject', 'return-to-supplier', 'further-inspection',
] as const;

/** The disposition by which what does not conform is accepted as it is. */
export const CONCESSION = 'use-as-is-under-concession' satisfies (typeof DISPOSITION_KINDS)[number];

/** What was decided to do with it, and who answers for that. */
export interface Disposition {
  readonly kind: (typeof DISPOSITION_KINDS)[number];
  readonly text: string;
  readonly approvedBy: string;
  readonly approvedAt: string;
}

export const SEVERITIES = ['critical', 'major', 'minor'] as const;
export const ORIGINS = ['incoming', 'line', 'audit', 'calibration', 'late-discovery', 'customer'] as const;
export const EXTENT_BASES = ['measured', 'bracketed', 'assumed'] as const;
export const STAGES = [
  'draft', 'open', 'evaluated', 'disposition-approved', 'executed', 'verified', 'closed',
] as const;

/** A requirement that was not met, and all of the pipe and strip that it concerns. */
@RecordTable('nonconformance', { stringId: 'casing_string' })
@Check('ck_nonconformance_severity', "severity in ('critical', 'major', 'minor')")
@Check(
  'ck_nonconformance_origin',
  "origin in ('incoming', 'line', 'audit', 'calibration', 'late-discovery', 'customer')",
)
@Check('ck_nonconformance_basis', "extent_basis in ('measured', 'bracketed', 'assumed')")
@Check('ck_nonconformance_number', 'number >= 1')
@Check('ck_nonconformance_closed', "stage <> 'closed' or disposition is not null")
@Check(
  'ck_nonconformance_stage',
  "stage in ('draft', 'open', 'evaluated', 'disposition-approved', 'executed', 'verified', 'closed')",
)
@Check('ck_nonconformance_scope', 'string_id is not null or isempty(extent)')
@IndexByName('uq_nonconformance_number')
@IndexByName('ix_nonconformance_extent')
@IndexByName('ix_nonconformance_coil_ids')
@IndexByName('ix_nonconformance_known_from')
export class Nonconformance extends RecordVersion {
  /** Without gaps, over all strings. */
  @Column({ type: 'int8' })
  number!: number;

  @Column({ type: 'text' })
  title!: string;

  @Column({ type: 'text' })
  severity!: (typeof SEVERITIES)[number];

  @Column({ type: 'text' })
  origin!: (typeof ORIGINS)[number];

  /** Null when it concerns strip only. */
  @Column({ type: 'uuid', nullable: true })
  stringId!: string | null;

  /** The pipe it concerns, as given. */
  @Column({ type: 'jsonb' })
  given!: readonly GivenInterval[];

  /** The same as footage, derived. */
  @Column({ type: 'int8multirange' })
  extent!: readonly Interval[];

  @Column({ type: 'jsonb' })
  restsOn!: readonly RestsOn[];

  @Column({ type: 'jsonb' })
  coilExtents!: readonly CoilExtent[];

  /** The coils of `coilExtents`, each once. */
  @Column({ type: 'uuid', array: true })
  coilIds!: readonly string[];

  @Column({ type: 'text' })
  extentBasis!: (typeof EXTENT_BASES)[number];

  @Column({ type: 'jsonb' })
  requirement!: Requirement;

  @Column({ type: 'jsonb' })
  found!: Found;

  @Column({ type: 'jsonb', nullable: true })
  containment!: Containment | null;

  @Column({ type: 'text' })
  stage!: (typeof STAGES)[number];

  @Column({ type: 'jsonb', nullable: true })
  disposition!: Disposition | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
