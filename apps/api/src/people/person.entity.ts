import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { Role } from '../access/permissions.js';

/** Somebody who works with the program. Secrets are kept elsewhere. */
@RecordTable('person')
@Check('ck_person_roles', "roles <@ array['qc-inspector', 'materials-engineer', 'auditor', 'administrator']::text[]")
@IndexByName('uq_person_sign_in_name')
export class Person extends RecordVersion {
  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text' })
  signInName!: string;

  @Column({ type: 'text', array: true })
  roles!: Role[];

  /** Nobody signs in as an inactive person; what they entered stays theirs. */
  @Column({ type: 'boolean' })
  active!: boolean;
}
