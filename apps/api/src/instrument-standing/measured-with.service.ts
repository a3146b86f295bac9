import { Injectable } from '@nestjs/common';
import { decimal, minus, compare, decimalText, type Ratio } from '#libs/exact';
import { marginAgainst, type DoubtfulSpan, type MarginFinding } from '#libs/validity';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { linkTo } from '../trace/record-link.js';
import type { DoubtfulRecord } from './instrument-standing.dto.js';

/** The least distance of the readings of a record from a limit. */
interface LeastMargin {
  readonly value: string;
  readonly unit: string;
}

/** What was measured with an instrument, on pipe and on strip. */
export interface MeasuredWith {
  readonly inspections: readonly Inspection[];
  readonly checks: readonly IncomingCheck[];
}

/** Decimals of a margin as it is shown. */
const SHOWN_DECIMALS = 6;

/** Readings by the instrument that they were taken with. */
@Injectable()
export class MeasuredWithInstrument {
  constructor(
    private readonly inspections: InspectionsService,
    private readonly checks: IncomingChecksService,
  ) {}

  async of(instrumentId: string, asKnownAt: string | null): Promise<MeasuredWith> {
    const [inspections, checks] = await Promise.all([
      this.inspections.withInstrument(instrumentId, asKnownAt), this.checks.withInstrument(instrumentId, asKnownAt),
    ]);
    return { inspections, checks };
  }

  /** Each record with what the deviation found in a span means for its margin. */
  async doubtful({ inspections, checks }: MeasuredWith, span: DoubtfulSpan, asKnownAt: string | null): Promise<DoubtfulRecord[]> {
    const onPipe = inspections.map((row): DoubtfulRecord => {
      const least = marginOfInspection(row);
      const said = row.value === null ? row.kind : `${row.characteristic} ${row.value} ${row.unit ?? ''}`;
      return { record: linkTo('inspection', row, `${row.kind}: ${row.characteristic}`), at: row.observedAt, said: withMargin(said, least), margin: findingOf(span, least) };
    });
    const onStrip = await Promise.all(checks.map(async (row): Promise<DoubtfulRecord> => {
      const least = leastOf(await this.checks.marginsOf(row, asKnownAt));
      const said = `${row.characteristic} ${row.readings.map(({ printed }) => printed).join(', ').slice(0, 300)} ${row.unit}`;
      return { record: linkTo('incoming-check', row, `${row.characteristic}, ${row.instrument}`), at: row.observedAt, said: withMargin(said, least), margin: findingOf(span, least) };
    }));
    return [...onPipe, ...onStrip].sort((one, other) => (one.at < other.at ? -1 : 1));
  }
}

const findingOf = (span: DoubtfulSpan, least: LeastMargin | null): MarginFinding => (least === null ? 'not-comparable' : marginAgainst(span, least));

const withMargin = (said: string, least: LeastMargin | null): string =>
  `${said}; ${least === null ? 'no limit to compare with' : `${least.value} ${least.unit} from its limit`}`;

/** The distance of an inspection's value from its nearer limit. */
function marginOfInspection({ value, unit, limitMin, limitMax }: Inspection): LeastMargin | null {
  if (value === null || unit === null) return null;
  const limits = [limitMin, limitMax].filter((limit) => limit !== null);
  return leastOf(limits.map((limit) => ({ value: decimalText(minus(decimal(value), decimal(limit)), SHOWN_DECIMALS, 'half-even'), unit })));
}

/** The least in size, without its sign; null where there is none. Those of one record have one unit. */
export function leastOf(margins: readonly LeastMargin[]): LeastMargin | null {
  const sizes = margins.map(({ value, unit }) => ({ value: value.replace('-', ''), unit }));
  const size = ({ value }: LeastMargin): Ratio => decimal(value);
  return sizes.reduce<LeastMargin | null>((least, one) => (least === null || compare(size(one), size(least)) < 0 ? one : least), null);
}
