import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { normalInstant, type Transaction } from '#libs/persistence';
import { contradictory, together } from '../http/problem.js';
import { PeopleService } from '../people/people.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { ShiftInput, type ShiftContent } from './shift.dto.js';
import { Shift } from './shift.entity.js';
import { shiftFaults, shiftFindings } from './shift.rules.js';

@Injectable()
export class ShiftsService extends RecordsService<Shift, ShiftInput, ShiftContent> {
  readonly kind = 'shift';
  readonly entity = Shift;
  readonly input = ShiftInput;
  protected override readonly filters = { stringId: 'string_id' };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly people: PeopleService,
  ) {
    super(desk);
  }

  /** Other shifts, of any string, known at `asKnownAt`, that overlap this one and have one of its crew. */
  async sharingCrew(shift: Pick<Shift, 'observedAt' | 'until' | 'crew'>, id: string | null, asKnownAt: string | null, manager?: EntityManager): Promise<Shift[]> {
    const { observedAt, until, crew } = shift;
    return this.desk.store.select(
      this.entity, "state = 'active' and id is distinct from $1::uuid and crew @> any($2::jsonb[]) and tstzrange(observed_at, until) && tstzrange($3, $4)",
      [id, crew.map(({ personId }) => onCrew(personId)), observedAt, until], asKnownAt, 'order by observed_at, id', manager,
    );
  }

  /** A person's shifts on a string that began at `at` or before, known at `asKnownAt`, the last one first. */
  async ofPerson(personId: string, stringId: string, at: string, asKnownAt: string | null): Promise<Shift[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and crew @> $2::jsonb and observed_at <= $3",
      [stringId, onCrew(personId), at], asKnownAt, 'order by observed_at desc, id desc',
    );
  }

  protected async content(tx: Transaction, input: ShiftInput, current: Shift | null): Promise<Content<Shift>> {
    const { stringId, name } = input;
    const until = input.until == null ? null : normalInstant(input.until);
    const crew = input.crew.map(({ personId, duty }) => ({ personId, duty }));
    const faults = shiftFaults({ observedAt: input.observedAt, until: input.until ?? null, crew });
    if (faults.length > 0) throw contradictory(faults);
    const known = (current?.crew ?? []).map(({ personId }) => personId);
    await together([
      this.strings.named(tx, 'stringId', stringId),
      ...crew.map(({ personId }, index) => this.people.namedIfAny(tx, `crew[${index}].personId`, known.includes(personId) ? null : personId)),
    ]);
    return { stringId, name, until, crew, weather: input.weather ?? null, note: input.note ?? null };
  }

  protected override async findings(input: ShiftInput, { until, crew }: Content<Shift>, tx: Transaction, current: Shift | null): Promise<readonly Finding[]> {
    const shift = { observedAt: normalInstant(input.observedAt), until, crew };
    return shiftFindings(shift, await this.sharingCrew(shift, current?.id ?? null, null, tx.manager));
  }

  protected present({ stringId, name, until, crew, weather, note }: Shift): ShiftContent {
    return { stringId, name, until, crew: crew.map(({ personId, duty }) => ({ personId, duty })), weather, note };
  }
}

const onCrew = (personId: string): string => JSON.stringify([{ personId }]);
