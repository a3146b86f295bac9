import { compare, decimal } from '#libs/exact';
import { marginAgainst, type DoubtfulSpan, type MarginFinding } from '#libs/validity';
import type { Margin, MarginedReading, MeasuredRecord } from '../measured-work/measured-record.js';
import type { DoubtfulRecord } from './instrument-standing.dto.js';

/** The gravest first. */
const GRAVEST: readonly MarginFinding[] = ['less-than-deviation', 'not-comparable', 'enough'];
const LONGEST_SAID = 500;

type Deviations = Pick<DoubtfulSpan, 'deviations'>;

/** A record with what the deviations found mean for the margins of its readings with the instrument. */
export function doubtfulRecord({ record, at }: MeasuredRecord, readings: readonly MarginedReading[], span: Deviations): DoubtfulRecord {
  return { record, at, said: saidOf(readings), margin: findingOf(readings.map(({ margin }) => margin), span) };
}

/** The gravest of some readings; a record without any cannot be compared. */
export function findingOf(margins: readonly (Margin | null)[], span: Deviations): MarginFinding {
  const findings = margins.map((margin) => (margin === null ? 'not-comparable' : marginAgainst(span, margin)));
  return GRAVEST.find((one) => findings.includes(one)) ?? 'not-comparable';
}

/** Each reading with its distance from its limit; one reading with several limits is told with the nearest. */
export function saidOf(readings: readonly MarginedReading[]): string {
  const nearest = readings.reduce((kept, one) => {
    const before = kept.get(one.said);
    return before === undefined || isNearer(one.margin, before) ? kept.set(one.said, one.margin) : kept;
  }, new Map<string, Margin | null>());
  const words = [...nearest].map(([said, margin]) => `${said}; ${margin === null ? 'no limit to compare with' : distance(margin)}`);
  return words.length === 0 ? 'nothing that could be read' : words.join('; ').slice(0, LONGEST_SAID);
}

const isNearer = (one: Margin | null, other: Margin | null): boolean => one !== null && (other === null || compare(decimal(one.value), decimal(other.value)) < 0);

const distance = ({ value, unit }: Margin): string =>
  (value.startsWith('-') ? `${value.slice(1)} ${unit} beyond its limit` : `${value} ${unit} inside its limit`);
