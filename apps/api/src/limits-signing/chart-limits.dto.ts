import { IntersectionType } from '@nestjs/swagger';
import { LONGEST_PASSWORD } from '../access/password-rules.js';
import { ChartWarningAnswer } from '../charting/control-chart-view.dto.js';
import { Anything, Computed, Id, Parts, Sha256, Text, Texts, When, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

const FOOTAGE = { min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' };
const MOST_REMOVED = 200;

/** Points that limits are taken without: those that meet a place, or the one without a place that is called so. */
export class RemovalInput {
  @Whole({ description: 'Footage from which on, mm; null of a point that has no place on the pipe.', example: 12_000, ...FOOTAGE, optional: true })
  fromMm?: number | null;

  @Whole({ description: 'Footage up to which, mm; not part of it.', example: 15_500, ...FOOTAGE, optional: true })
  toMm?: number | null;

  @Text({ description: 'The label of a point that has no place; null with a place.', example: null, max: 60, optional: true })
  label?: string | null;

  @Text({ description: 'Which cause was found: a point without one belongs in the limits.', example: 'Worn guide, replaced at 14:20', max: 1000, min: 3 })
  because!: string;
}

export class ChartLimitsInput {
  @Id({ description: 'Made by the client (UUIDv7); a repeated request with it has the effect of one.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1c25' })
  id!: string;

  @Id({ description: 'The control chart.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1ba0' })
  chartId!: string;

  @Whole({ description: 'Footage from which on the points are taken, mm.', example: 0, ...FOOTAGE })
  fromMm!: number;

  @Whole({ description: 'Footage up to which, mm; not part of it.', example: 60_000, ...FOOTAGE })
  toMm!: number;

  @Whole({ description: 'Footage from which on points are held against these limits, mm.', example: 60_000, ...FOOTAGE })
  appliesFromMm!: number;

  @Parts({ description: 'The points that were removed, as they were for the trial limits, each with its reason.', of: () => RemovalInput, max: MOST_REMOVED })
  removed!: RemovalInput[];

  @Sha256({ description: 'The digest shown with the trial limits: what is signed is what was seen.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  studySha256!: string;

  @Text({ description: 'Why the limits are approved in spite of the warnings; only and always where there are some.', example: null, max: 2000, min: 3, optional: true })
  warningsAcceptedBecause?: string | null;

  @Text({ description: "Why, in the signer's words.", example: 'Twenty-eight subgroups of four coils, causes of both outliers found.', max: 2000, min: 3 })
  grounds!: string;

  @Text({ description: "The signer's secret, entered again for this signature.", example: 'nine coils stayed dry', max: LONGEST_PASSWORD * 4 })
  secret!: string;
}

/** The limits' own fields of an answer. */
export class ChartLimitsContent {
  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;

  @Id({ description: 'The control chart.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1ba0' })
  chartId!: string;

  @Computed({ description: 'The version of the chart that stood then.', example: 1 })
  chartVersion!: number;

  @Computed({ description: 'Of the limits of this chart, from 1.', example: 1 })
  number!: number;

  @Whole({ description: 'Footage where the first of the points begins, mm; null where none has a place on the pipe.', example: 0, ...FOOTAGE, optional: true })
  fromMm!: number | null;

  @Whole({ description: 'Footage where the last ends, mm.', example: 60_000, ...FOOTAGE, optional: true })
  toMm!: number | null;

  @Whole({ description: 'Footage from which on points are held against them, mm.', example: 60_000, ...FOOTAGE })
  appliesFromMm!: number;

  @Anything({ description: 'The figures that they stand on.', example: {} })
  figures!: unknown;

  @Parts({ description: 'What was removed, and why.', of: () => RemovalInput, max: MOST_REMOVED })
  removed!: RemovalInput[];

  @Computed({ description: 'Autocorrelation of the points at lag 1; null where they were too few.', example: 0.12, optional: true })
  phi!: number | null;

  @Computed({ description: 'Points that counted.', example: 28 })
  points!: number;

  @Computed({ description: 'Coils that they were of; null where none is known.', example: 4, optional: true })
  coils!: number | null;

  @Parts({ description: 'What spoke against them.', of: () => ChartWarningAnswer, max: 20 })
  warnings!: ChartWarningAnswer[];

  @Text({ description: 'Why they were approved all the same.', example: null, max: 2000, optional: true })
  warningsAcceptedBecause!: string | null;

  @Text({ description: 'Why.', example: 'Twenty-eight subgroups of four coils, causes of both outliers found.', max: 2000 })
  grounds!: string;

  @Text({ description: 'The sentence signed.', example: 'I have examined the points of control chart WT-1, footage 0.000 to 60.000 m and approve the limits from 28 of them.', max: 1000 })
  statement!: string;

  @Anything({ description: 'The study frozen with the signature: plan, points, readings, records, limits.', example: {} })
  study!: unknown;

  @Sha256({ description: 'SHA-256 of its canonical JSON (RFC 8785).', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  studySha256!: string;

  @Text({ description: "The signer's name then.", example: 'Rasmus Feld', max: 200 })
  signerName!: string;

  @Texts({ description: "The signer's roles then.", example: ['materials-engineer'], max: 10, each: 60 })
  signerRoles!: string[];

  @When({ description: 'When they were signed.', example: '2026-03-02T15:10:00.000000Z' })
  signedAt!: string;

  @Text({ description: 'How the signer was proved. An electronic signature, not a qualified one.', example: 'secret entered again', max: 60 })
  signedBy!: string;
}

export class ChartLimitsAnswer extends IntersectionType(RecordAnswer, ChartLimitsContent) {}
