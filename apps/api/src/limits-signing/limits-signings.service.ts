import { Injectable } from '@nestjs/common';
import type { Actor, NewVersion, Transaction } from '#libs/persistence';
import type { KnownPerson } from '../access/credentials.js';
import { Signers, SIGNED_BY } from '../access/signers.js';
import { Slots } from '../access/slots.js';
import { ChartTrials, type ChartTrial } from '../charting/chart-trials.service.js';
import { thawedStudy } from '../charting/frozen-study.js';
import type { Removal } from '../charting/row-places.js';
import { limitsStatement } from '../charting/trial-limits.service.js';
import { ChartLimitsRows } from '../chart-limits/chart-limits-rows.service.js';
import type { ChartLimitsVersion, RemovedFromLimits } from '../chart-limits/chart-limits.entity.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import { contradictory, Refused, type FieldProblem } from '../http/problem.js';
import { parsedWithSecrets } from '../http/secret-fields.js';
import { CHART_LIMITS } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { SignedRecords } from '../signed-records/signed-records.js';
import type { CasingString } from '../strings/casing-string.entity.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { ChartLimitsInput, type ChartLimitsAnswer, type ChartLimitsContent } from './chart-limits.dto.js';

const AT_ONCE = 2;
const MOST_WAITING = 30;

/** Limits of control charts: signed on the trial that was seen, which is frozen with the signature. */
@Injectable()
export class LimitsSignings extends SignedRecords<ChartLimitsVersion, ChartLimitsContent> {
  readonly kind = 'chart limits';
  readonly entity = CHART_LIMITS.entity;
  protected readonly slots = new Slots(AT_ONCE, MOST_WAITING, 'Too many limits are being signed just now.');

  constructor(
    desk: RecordDesk,
    signers: Signers,
    private readonly charts: ControlChartsService,
    protected readonly rows: ChartLimitsRows,
    private readonly trials: ChartTrials,
    private readonly strings: CasingStringsService,
  ) {
    super(desk, signers);
  }

  /**
   * Signs limits. Refuses with 403 when the secret is wrong, with 404 when there is no such chart, with 409 when the trial is no
   * longer what the signer saw, with 422 when no limits are to be had, they would begin beyond the string, or warnings have no reason. A repeat with the same id has the
   * effect of one.
   */
  async sign(actor: Actor, body: unknown, sender: string): Promise<ChartLimitsAnswer> {
    const input = parsedWithSecrets(ChartLimitsInput, body, ['secret']);
    const removal = removalOf(input);
    const signer = await this.signers.prove(actor, input.secret, sender);
    const digest = digestOf({ ...input, secret: undefined });
    const stringId = async (): Promise<string> => (await this.charts.open(input.chartId, null)).stringId;
    return this.signedOnce({ actor, id: input.id, digest, stringId }, async (tx) => {
      const chart = await this.charts.open(input.chartId, null);
      demandOnString(input, await this.strings.open(chart.stringId, null));
      const trial = await this.trials.propose(chart, input, removal, { places: 'removed', labels: 'removed' });
      demandSeen(input, trial);
      const number = await this.rows.nextNumber(tx, chart.id);
      return this.rows.append(tx, rowOf(input, { trial, chart, number, signer, digest, tx }));
    });
  }

  /** The limits of a chart, withdrawn ones among them, by their numbers. Refuses with 404 when there is no such chart. */
  async ofChart(chartId: string, asKnownAt: string | null): Promise<ChartLimitsAnswer[]> {
    await this.charts.row(chartId, asKnownAt);
    return (await this.rows.allOfChart(chartId, asKnownAt)).map((row) => this.answer(row));
  }

  protected present(row: ChartLimitsVersion): ChartLimitsContent {
    const { stringId, chartId, chartVersion, number, fromMm, toMm, appliesFromMm, phi, points, coils, warningsAcceptedBecause, grounds, statement, studySha256, signerName, signedBy } = row;
    return {
      stringId, chartId, chartVersion, number, fromMm, toMm, appliesFromMm, figures: row.limits, removed: row.removed.map((one) => ({ ...one })), phi: phi === null ? null : Number(phi), points, coils,
      warnings: row.warnings.map((one) => ({ ...one })), warningsAcceptedBecause, grounds, statement, study: thawedStudy(row.study), studySha256, signerName, signerRoles: [...row.signerRoles],
      signedAt: row.enteredAt, signedBy,
    };
  }
}

/** Refuses a removal that is neither a place nor a label, and an interval without pipe. */
function removalOf({ fromMm, toMm, removed }: ChartLimitsInput): Removal {
  const faults = [
    ...(toMm > fromMm ? [] : [{ field: 'toMm', value: toMm, limit: `a footage above ${fromMm} mm: the interval is half-open` }]),
    ...removed.flatMap((one, index): FieldProblem[] => {
      const hasPlace = one.fromMm != null && one.toMm != null && one.toMm > one.fromMm && one.label == null;
      return hasPlace || (one.label != null && one.fromMm == null && one.toMm == null) ? [] : [{ field: `removed[${index}]`, value: { ...one }, limit: 'a place (fromMm below toMm), or the label of a point without one' }];
    }),
  ];
  if (faults.length > 0) throw contradictory(faults);
  return {
    places: removed.flatMap((one) => (one.fromMm != null && one.toMm != null ? [{ fromMm: one.fromMm, toMm: one.toMm }] : [])),
    labels: removed.flatMap(({ label }) => label ?? []),
  };
}

/** Limits that begin where the string can have no pipe would hold for none. */
function demandOnString({ appliesFromMm }: ChartLimitsInput, { footageLimitMm }: CasingString): void {
  if (appliesFromMm < footageLimitMm) return;
  throw contradictory([{ field: 'appliesFromMm', value: appliesFromMm, limit: `below the ${footageLimitMm} mm at which the string ends` }]);
}

function demandSeen({ studySha256, warningsAcceptedBecause }: ChartLimitsInput, { sha256, study: { warnings } }: ChartTrial): void {
  if (studySha256 !== sha256) {
    throw new Refused(409, 'trial-changed', 'The points are no longer what was shown: look at the trial limits again.', [{ field: 'studySha256', value: studySha256, limit: 'the digest of the trial limits as they are now' }]);
  }
  if ((warnings.length > 0) === (warningsAcceptedBecause != null)) return;
  const limit = warnings.length > 0 ? `why these limits are approved in spite of: ${warnings.map(({ code }) => code).join(', ')}` : 'nothing: there is no warning';
  throw contradictory([{ field: 'warningsAcceptedBecause', value: warningsAcceptedBecause ?? null, limit }]);
}

interface Signing {
  readonly trial: ChartTrial;
  readonly chart: ControlChart;
  readonly number: number;
  readonly signer: KnownPerson;
  readonly digest: string;
  readonly tx: Transaction;
}

function rowOf(input: ChartLimitsInput, { trial: { study, text, sha256 }, chart, number, signer, digest, tx }: Signing): NewVersion<ChartLimitsVersion> {
  const removed = input.removed.map(({ fromMm, toMm, label, because }): RemovedFromLimits => ({ fromMm: fromMm ?? null, toMm: toMm ?? null, label: label ?? '', because }));
  const { span, lagOne, points, coils, limits, warnings } = study;
  return {
    id: input.id, digest, observedAt: tx.knownAt, enteredAt: tx.knownAt, state: 'active', doneBy: signer.id, source: 'keyed', reason: null, marks: [],
    stringId: chart.stringId, chartId: chart.id, chartVersion: chart.version, number, fromMm: span?.fromMm ?? null, toMm: span?.toMm ?? null, appliesFromMm: input.appliesFromMm, limits, removed,
    phi: lagOne === null ? null : String(lagOne.phi), points: points.filter(({ isRemoved }) => !isRemoved).length, coils, warnings, warningsAcceptedBecause: input.warningsAcceptedBecause ?? null,
    study: text, studySha256: sha256, grounds: input.grounds, statement: limitsStatement(chart, study), signerName: signer.name, signerRoles: signer.roles, signedBy: SIGNED_BY,
  } as NewVersion<ChartLimitsVersion>;
}
