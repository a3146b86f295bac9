import type { MigrationInterface, QueryRunner } from 'typeorm';

/** EM021: as long as limits of a chart stand its readings stay what they are, and in their unit. */
const SAME_READINGS = [
  `create function refuse_other_readings() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     if new.version > 1 and exists (select 1 from chart_limits where chart_id = new.id and known_until is null and state = 'active')
        and exists (select 1 from control_chart where id = new.id and version = new.version - 1 and (characteristic, unit) is distinct from (new.characteristic, new.unit)) then
       raise exception 'limits of control chart % stand on other readings', new.code using errcode = 'EM021';
     end if;
     return new;
   end $$`,
  'create trigger same_readings before insert on control_chart for each row execute function refuse_other_readings()',
];

/** What limits that stand were found from is what their chart reads. */
export class ChartsUnderLimits1764061200028 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of SAME_READINGS) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
