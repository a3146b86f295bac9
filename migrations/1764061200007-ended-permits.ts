import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * A permit that a decision ended stays so, however often it is amended: when it was first entered counts. As in
 * 1764061200005 in everything else.
 */
const USABLE_COIL = `
create or replace function is_usable_coil(coil uuid, string uuid, at timestamptz) returns boolean language sql stable
  set search_path = public, pg_catalog as $$
  with last as (select decision, known_from from coil_decision where coil_id = coil order by sequence desc limit 1)
  select exists (select 1 from last where decision in ('accept', 'accept-under-concession'))
      or exists (select 1 from deviation_permit p
                  where p.coil_id = coil and p.known_until is null and p.state = 'active'
                    and p.observed_at <= at and p.valid_until > at
                    and (p.for_string_id is null or p.for_string_id = string)
                    and not exists (select 1 from last where last.known_from >= p.entered_at))
$$`;

/** An ended permit does not come back to life by being amended. */
export class EndedPermits1764061200007 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(USABLE_COIL);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
