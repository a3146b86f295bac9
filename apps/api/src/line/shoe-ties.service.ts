import { Injectable } from '@nestjs/common';
import { roundMm } from '#libs/length';
import { microseconds, type Transaction } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { inWords, restOnTheSame, type GivenPlace } from './given-place.js';
import { HangOffVersion } from './hang-off.entity.js';
import { decimalMm, type LineKnowledge } from './line-knowledge.js';
import { Places, type Move, type PlacedKind, type Stage } from './places.service.js';
import { ShoeTieInput, type ShoeTieContent } from './shoe-tie.dto.js';
import { ShoeTieVersion } from './shoe-tie.entity.js';
import { tieFindings, type TieFigures } from './shoe-tie.rules.js';

type WeldColumns = Pick<ShoeTieVersion, 'weldFootageMm' | 'weldUMm' | 'restsOn'>;

@Injectable()
export class ShoeTiesService
  extends RecordsService<ShoeTieVersion, ShoeTieInput, ShoeTieContent>
  implements PlacedKind<ShoeTieVersion>
{
  readonly kind = 'shoe tie';
  readonly entity = ShoeTieVersion;
  readonly input = ShoeTieInput;
  readonly stage: Stage = 'records';
  protected override readonly effect = 'shows';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    uq_shoe_tie_at: { field: 'observedAt', limit: 'a time at which the string has no other shoe tie' },
  };

  constructor(desk: RecordDesk, private readonly places: Places, private readonly strings: CasingStringsService) {
    super(desk);
    places.register(this);
  }

  moved(row: ShoeTieVersion, line: LineKnowledge): Move | null {
    const columns = weldColumns(row.given, row.observedAt, line);
    if (columns.weldFootageMm !== row.weldFootageMm || columns.weldUMm !== row.weldUMm) {
      return { columns, said: `footage ${row.weldFootageMm} mm at the weld point became ${columns.weldFootageMm} mm` };
    }
    return restOnTheSame(row.restsOn, columns.restsOn) ? null : { columns, said: `it rests on ${inWords(columns.restsOn)} now` };
  }

  protected async content(tx: Transaction, input: ShoeTieInput): Promise<Content<ShoeTieVersion>> {
    const line = await this.places.line(tx, input.stringId);
    const given: GivenPlace = { ...input.place };
    return {
      stringId: input.stringId,
      given,
      ...weldColumns(given, input.observedAt, line),
      shoeMdMm: input.shoeMdMm,
      shoeUMm: input.shoeUMm,
      method: input.method,
      note: input.note ?? null,
    };
  }

  protected override async findings(
    { stringId, observedAt, shoeMdMm }: ShoeTieInput,
    { weldFootageMm }: Content<ShoeTieVersion>,
    tx: Transaction,
    current: ShoeTieVersion | null,
  ): Promise<readonly Finding[]> {
    const [before] = await this.desk.store.select(
      ShoeTieVersion, "string_id = $1 and state = 'active' and observed_at < $2 and id is distinct from $3",
      [stringId, observedAt, current?.id ?? null], null, 'order by observed_at desc limit 1', tx.manager,
    );
    const figures = await this.figures(tx, stringId, weldFootageMm, observedAt);
    return tieFindings(shoeMdMm, before?.shoeMdMm ?? null, figures);
  }

  protected present(row: ShoeTieVersion): ShoeTieContent {
    const { stringId, given, weldFootageMm, restsOn, shoeMdMm, shoeUMm, method, note } = row;
    return { stringId, place: given, weldFootageMm, weldUMm: Number(row.weldUMm), restsOn, shoeMdMm, shoeUMm, method, note };
  }

  /** What reconciles the tie, or null while the string does not hang or the way to the hang-off is not known. */
  private async figures(tx: Transaction, stringId: string, weldFootageMm: number, at: string): Promise<TieFigures | null> {
    const atUs = microseconds(at);
    const line = await this.places.line(tx, stringId);
    const path = line.hangOffPathAt(atUs);
    const [hangOff] = await this.desk.store.select(
      HangOffVersion, "string_id = $1 and state = 'active'", [stringId], null, '', tx.manager,
    );
    if (path === null || hangOff === undefined) return null;
    const string = await this.strings.named(tx, 'stringId', stringId);
    return {
      weldNetMm: line.netMm(weldFootageMm, atUs),
      hangOffNetMm: line.netMm(hangOff.span.fromMm, atUs),
      hangOffMdMm: hangOff.mdMm,
      pathMm: (path.minMm + path.maxMm) / 2,
      lambda: Number(string.lengthRatio),
    };
  }
}

function weldColumns(given: GivenPlace, observedAt: string, line: LineKnowledge): WeldColumns {
  const weld = line.weldFootage('place', given, observedAt);
  const weldFootageMm = roundMm(weld.mm);
  if (weldFootageMm < 0) throw refusedField('outside-string', 'place', weldFootageMm, 'a footage of 0 mm or more');
  return { weldFootageMm, weldUMm: decimalMm(weld.uMm), restsOn: weld.restsOn };
}
