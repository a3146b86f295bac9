import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { CoilsService } from '../coils/coils.service.js';
import { refusedField } from '../http/problem.js';
import { extentOf, givenOf, movedExtent, NO_PIPE, type ExtentColumns } from '../line/extent.js';
import type { GivenInterval } from '../line/given-place.js';
import type { LineKnowledge } from '../line/line-knowledge.js';
import { Places, type Move, type PlacedKind } from '../line/places.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { NonconformanceInput, type NonconformanceContent } from './nonconformance.dto.js';
import { labelOf } from './nonconformance-label.js';
import { CONCESSION, Nonconformance } from './nonconformance.entity.js';
import { coilExtentOf, containmentOf, dispositionOf, foundOf, refuseIncomplete } from './nonconformance.rules.js';

const ABOUT = "state = 'active' and ((string_id = $1 and extent && $2::int8multirange) or coil_ids && $3::uuid[])";

@Injectable()
export class NonconformancesService
  extends RecordsService<Nonconformance, NonconformanceInput, NonconformanceContent>
  implements PlacedKind<Nonconformance>
{
  readonly kind = 'nonconformance';
  readonly entity = Nonconformance;
  readonly input = NonconformanceInput;
  readonly stage = 'records';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    ck_nonconformance_keeps_concession: { field: 'disposition', limit: `${CONCESSION}, since waivers of evidence rest on it; withdraw those first`, code: 'rested-on' },
  };

  constructor(
    desk: RecordDesk,
    private readonly places: Places,
    private readonly coils: CoilsService,
  ) {
    super(desk);
    places.register(this);
  }

  moved(row: Nonconformance, line: LineKnowledge): Move | null {
    return movedExtent(row, extentOf('extents', row.given, row.observedAt, line));
  }

  /** Those known at `asKnownAt` whose pipe touches one of the footage intervals of the string, by number. */
  async touching(stringId: string, multirange: string, asKnownAt: string | null): Promise<Nonconformance[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and extent && $2::int8multirange",
      [stringId, multirange], asKnownAt, 'order by number',
    );
  }

  /** Those known at `asKnownAt` that name strip of one of the coils, whichever string it went into, by number. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<Nonconformance[]> {
    return this.desk.store.select(
      this.entity, "state = 'active' and coil_ids && $1::uuid[]", [coilIds], asKnownAt, 'order by number',
    );
  }

  /** Those known at `asKnownAt` whose pipe touches footage of the string, or that name one of the coils, by number. */
  async about(
    stringId: string,
    multirange: string,
    coilIds: readonly string[],
    asKnownAt: string | null,
  ): Promise<Nonconformance[]> {
    const parameters = [stringId, multirange, coilIds];
    return this.desk.store.select(this.entity, ABOUT, parameters, asKnownAt, 'order by number');
  }

  /** `about` as an SQL expression over $1 (string), $2 (multirange), $3 (coil ids) and `known`, for `desk.store.unpack`. */
  packedAbout(properties: readonly (keyof Nonconformance)[], known: string | null): string {
    return this.desk.store.packed(this.entity, properties, { condition: ABOUT, order: 'number', known });
  }

  /** Those of a string known at `asKnownAt`, by number. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<Nonconformance[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by number',
    );
  }

  protected async content(
    tx: Transaction,
    input: NonconformanceInput,
    current: Nonconformance | null,
  ): Promise<Content<Nonconformance>> {
    refuseIncomplete(input);
    await this.refuseUnknownPeople(tx, input);
    const given = (input.extents ?? []).map(givenOf);
    const coilExtents = (input.coilExtents ?? []).map(coilExtentOf);
    await this.refuseUnknownCoils(tx, coilExtents.map(({ coilId }) => coilId), current?.coilIds ?? []);
    const derived = await this.derived(tx, input, given);
    return {
      title: input.title,
      severity: input.severity,
      origin: input.origin,
      stringId: input.stringId ?? null,
      given,
      ...derived,
      coilExtents,
      coilIds: [...new Set(coilExtents.map(({ coilId }) => coilId))],
      extentBasis: input.extentBasis,
      requirement: input.requirement,
      found: foundOf(input.found),
      containment: input.containment == null ? null : containmentOf(input.containment),
      stage: input.stage,
      disposition: input.disposition == null ? null : dispositionOf(input.disposition),
      note: input.note ?? null,
      // Taken last: the series stays locked from here to the end of the transaction.
      number: current?.number ?? (await this.nextNumber(tx)),
    };
  }

  protected present(row: Nonconformance): NonconformanceContent {
    const { number, title, severity, origin, stringId, restsOn, extentBasis, requirement, found } = row;
    return {
      number,
      label: labelOf(number),
      title, severity, origin, stringId,
      extents: row.given.map(({ from, to }) => ({ from, to })),
      footage: row.extent.map(({ fromMm, toMm }) => ({ fromMm, toMm })),
      restsOn,
      coilExtents: row.coilExtents.map(coilExtentOf),
      extentBasis, requirement, found,
      containment: row.containment,
      stage: row.stage,
      disposition: row.disposition,
      note: row.note,
    };
  }

  /** A string that is named is a string in use, even when only strip is concerned. */
  private async derived(tx: Transaction, input: NonconformanceInput, given: GivenInterval[]): Promise<ExtentColumns> {
    if (input.stringId == null) return NO_PIPE;
    return extentOf('extents', given, input.observedAt, await this.places.line(tx, input.stringId));
  }

  /** A transaction that is rolled back gives its number back, since others wait for the row until it ends. */
  private async nextNumber(tx: Transaction): Promise<number> {
    const rows: { last_number: string }[] = await tx.manager.query(
      `insert into number_series (name, last_number) values ('nonconformance', 1)
       on conflict (name) do update set last_number = number_series.last_number + 1
       returning last_number`,
    );
    return Number(rows[0]?.last_number);
  }

  private async refuseUnknownCoils(tx: Transaction, ids: readonly string[], known: readonly string[]): Promise<void> {
    for (const [index, id] of ids.entries()) {
      if (!known.includes(id)) await this.coils.named(tx, `coilExtents[${index}].coilId`, id);
    }
  }

  private async refuseUnknownPeople(tx: Transaction, { found, containment, disposition }: NonconformanceInput): Promise<void> {
    const named = [
      { field: 'found.by', id: found.by },
      ...(containment == null ? [] : [{ field: 'containment.by', id: containment.by }]),
      ...(disposition == null ? [] : [{ field: 'disposition.approvedBy', id: disposition.approvedBy }]),
    ];
    const rows: { id: string }[] = await tx.manager.query(
      "select id from person where known_until is null and state = 'active' and id = any($1::uuid[])",
      [named.map(({ id }) => id)],
    );
    const unknown = named.find(({ id }) => !rows.some((row) => row.id === id));
    if (unknown === undefined) return;
    throw refusedField('unknown-reference', unknown.field, unknown.id, 'the id of a person on record');
  }
}
