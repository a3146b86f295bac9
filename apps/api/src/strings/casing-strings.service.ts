import { Injectable } from '@nestjs/common';
import type { WriteLock, Transaction } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { WellsService } from '../wells/wells.service.js';
import { CasingStringInput, type CasingStringContent } from './casing-string.dto.js';
import { CasingString } from './casing-string.entity.js';
import { contradictionOf, stringFindings } from './casing-string.rules.js';

const MASTER_COUNTER = 'main';

@Injectable()
export class CasingStringsService extends RecordsService<CasingString, CasingStringInput, CasingStringContent> {
  readonly kind = 'casing string';
  readonly entity = CasingString;
  readonly input = CasingStringInput;
  protected override readonly filters = { wellId: 'well_id' };
  protected override readonly constraints = {
    uq_casing_string_name: { field: 'name', limit: 'a name that no other string of the well has' },
  };

  constructor(desk: RecordDesk, private readonly wells: WellsService) {
    super(desk);
  }

  /** The string known at an instant, or now. Refuses with 404 when there is none, with 409 when it is void. */
  async open(stringId: string, asKnownAt: string | null): Promise<CasingString> {
    const string = await this.row(stringId, asKnownAt);
    if (string.state === 'void') throw new Refused(409, 'void', `The casing string ${stringId} is void.`);
    return string;
  }

  protected async content(tx: Transaction, input: CasingStringInput, current: CasingString | null): Promise<Content<CasingString>> {
    if (input.wellId !== current?.wellId) await this.wells.named(tx, 'wellId', input.wellId);
    const content = {
      wellId: input.wellId,
      name: input.name,
      footageLimitMm: input.footageLimitMm,
      outsideDiameterMm: input.outsideDiameterMm,
      wallThicknessMm: input.wallThicknessMm,
      masterCounter: input.masterCounter ?? MASTER_COUNTER,
      lengthRatio: input.lengthRatio,
      lengthRatioU: input.lengthRatioU,
      diameterRatio: input.diameterRatio ?? null,
      diameterRatioU: input.diameterRatioU ?? null,
      note: input.note ?? null,
    };
    const problem = contradictionOf(content);
    if (problem !== null) throw new Refused(422, 'contradiction', 'Two fields contradict each other.', [problem]);
    return content;
  }

  protected override findings(_input: CasingStringInput, content: Content<CasingString>): readonly Finding[] {
    return stringFindings(content);
  }

  /** Positions rest on the string's own figures: nobody else writes on it while they change. */
  protected override lockOf(subject: CasingStringInput | CasingString): WriteLock | null {
    return subject.id === undefined ? null : { about: subject.id, mode: 'exclusive' };
  }

  /** Nothing rests on a string that was only just entered, and nothing is derived any more on one withdrawn. */
  protected override async afterWrite(tx: Transaction, row: CasingString, before: CasingString | null): Promise<void> {
    if (before === null) return;
    if (row.state === 'void') await this.desk.changes.touch(tx, row.id);
    else await this.desk.changes.announce(tx, row.id, `${this.kind} ${row.id} was amended (version ${row.version})`);
  }

  protected present(row: CasingString): CasingStringContent {
    const { wellId, name, footageLimitMm, outsideDiameterMm, wallThicknessMm, masterCounter } = row;
    const { lengthRatio, lengthRatioU, diameterRatio, diameterRatioU, note } = row;
    return {
      wellId, name, footageLimitMm, outsideDiameterMm, wallThicknessMm, masterCounter,
      lengthRatio, lengthRatioU, diameterRatio, diameterRatioU, note,
    };
  }
}
