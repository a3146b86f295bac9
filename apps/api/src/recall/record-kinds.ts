import type { RecordClass, RecordVersion, StringRecordVersion } from '#libs/persistence';
import { Attendance } from '../attendances/attendance.entity.js';
import { CalibrationVersion } from '../calibrations/calibration.entity.js';
import { CertificateLink } from '../certificate-links/certificate-link.entity.js';
import { Certificate } from '../certificates/certificate.entity.js';
import { Channel } from '../channels/channel.entity.js';
import { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';
import { ChartReaction } from '../chart-reactions/chart-reaction.entity.js';
import { reactionLabel } from '../chart-reactions/chart-reaction.rules.js';
import { Coil } from '../coils/coil.entity.js';
import { ControlChart } from '../control-charts/control-chart.entity.js';
import { chartLabel } from '../control-charts/control-chart.rules.js';
import { ControlPlan } from '../control-plans/control-plan.entity.js';
import { planLabel } from '../control-plans/control-plan.rules.js';
import { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import { detectionLabel } from '../detections/detection-label.js';
import { Detection } from '../detections/detection.entity.js';
import { Device } from '../devices/device.entity.js';
import { EvidenceWaiver } from '../evidence-waivers/evidence-waiver.entity.js';
import { examinationLabel } from '../examinations/examination-label.js';
import { Examination } from '../examinations/examination.entity.js';
import { Document } from '../files/document.entity.js';
import { GaugeStudyVersion } from '../gauge-studies/gauge-study.entity.js';
import { HandoverAcceptance } from '../handover-acceptances/handover-acceptance.entity.js';
import { Handover } from '../handovers/handover.entity.js';
import { Heat } from '../heats/heat.entity.js';
import { HoldLifting } from '../hold-liftings/hold-lifting.entity.js';
import { Hold } from '../holds/hold.entity.js';
import { holdLabel } from '../holds/hold.rules.js';
import { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { evaluationLabel } from '../indication-evaluations/indication-evaluation-label.js';
import { IndicationEvaluation } from '../indication-evaluations/indication-evaluation.entity.js';
import { IndicationRuleVersion } from '../indication-rules/indication-rule.entity.js';
import { ruleName } from '../indication-rules/indication-rule.rules.js';
import { indicationLabel } from '../indications/indication-label.js';
import { Indication } from '../indications/indication.entity.js';
import { inspectionLabel } from '../inspections/inspection-label.js';
import { Inspection } from '../inspections/inspection.entity.js';
import { Instrument } from '../instruments/instrument.entity.js';
import { CounterPeriodVersion } from '../line/counter-period.entity.js';
import { CounterReading } from '../line/counter-reading.entity.js';
import { CutOutVersion } from '../line/cut-out.entity.js';
import { HangOffVersion } from '../line/hang-off.entity.js';
import { LineSetup } from '../line/line-setup.entity.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import { ShoeTieVersion } from '../line/shoe-tie.entity.js';
import { labelOf } from '../nonconformances/nonconformance-label.js';
import { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { StripOrder } from '../orders/strip-order.entity.js';
import { Person } from '../people/person.entity.js';
import { DeviationPermit } from '../permits/deviation-permit.entity.js';
import { QualificationProof } from '../qualification-proofs/qualification-proof.entity.js';
import { QualificationVersion } from '../qualifications/qualification.entity.js';
import { CoilReceipt } from '../receipts/coil-receipt.entity.js';
import { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { Rejoin } from '../rejoins/rejoin.entity.js';
import { repairLabel } from '../repairs/repair-label.js';
import { Release } from '../releases/release.entity.js';
import { Repair } from '../repairs/repair.entity.js';
import { SamplingPlanAssignment } from '../sampling-plan-assignments/sampling-plan-assignment.entity.js';
import { SamplingPlanVersion } from '../sampling-plans/sampling-plan.entity.js';
import { SeamEvent } from '../seam-events/seam-event.entity.js';
import { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { ShiftEvent } from '../shift-events/shift-event.entity.js';
import { Shift } from '../shifts/shift.entity.js';
import { StripSpecification } from '../specifications/strip-specification.entity.js';
import { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { stepLabel } from '../splice-steps/splice-step-label.js';
import { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { SpliceVersion } from '../splices/splice.entity.js';
import { CoilDecision } from '../standing/coil-decision.entity.js';
import { CasingString } from '../strings/casing-string.entity.js';
import { Survey } from '../surveys/survey.entity.js';
import { TestSample } from '../test-samples/test-sample.entity.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import { weldLabel } from '../welds/weld-label.js';
import { Weld } from '../welds/weld.entity.js';
import { Well } from '../wells/well.entity.js';

/** A kind of record: its rows, its name, and what people call one of them. */
export interface RecordKind<R extends RecordVersion> {
  readonly kind: string;
  readonly entity: RecordClass<R>;
  label(row: R): string;
}

const kindOf = <R extends RecordVersion>(kind: string, entity: RecordClass<R>, label: (row: R) => string): RecordKind<R> =>
  ({ kind, entity, label });

export const HEATS = kindOf('heat', Heat, ({ number }) => number);
export const CERTIFICATES = kindOf('certificate', Certificate, ({ number }) => number);
export const COILS = kindOf('coil', Coil, ({ number }) => number);
export const PEOPLE = kindOf('person', Person, ({ name }) => name);
export const SEGMENTS = kindOf('coil-segment', CoilSegmentVersion, ({ span }) => `footage ${span.fromMm} mm`);
export const SPLICES = kindOf('splice', SpliceVersion, ({ number }) => number);
export const CUT_OUTS = kindOf('cut-out', CutOutVersion, ({ cause }) => cause.slice(0, 200));
export const INSPECTIONS = kindOf('inspection', Inspection, inspectionLabel);
export const SEAM_EVENTS = kindOf('seam-event', SeamEvent, ({ event, span }) => `${event} at ${span.fromMm} mm`);
export const REPAIRS = kindOf('repair', Repair, repairLabel);
export const EXAMINATIONS = kindOf('examination', Examination, examinationLabel);
export const CHANNELS = kindOf('channel', Channel, ({ name }) => name);
export const INSPECTION_RUNS = kindOf('inspection-run', InspectionRun, ({ observedAt }) => `from ${observedAt}`);
export const SIGNAL_MARKS = kindOf('signal-mark', SignalMark, ({ cause, span }) => `${cause} at ${span.fromMm} mm`);
export const REFERENCE_CHECKS = kindOf('reference-check', ReferenceCheck, ({ occasion, observedAt }) => `${occasion} of ${observedAt}`);
export const INDICATIONS = kindOf('indication', Indication, indicationLabel);
export const INDICATION_EVALUATIONS = kindOf('indication-evaluation', IndicationEvaluation, evaluationLabel);
export const ATTENDANCES = kindOf('attendance', Attendance, ({ itemCode, outcome, span }) => `${itemCode} ${outcome} at ${span.fromMm} mm`);
export const EVIDENCE_WAIVERS = kindOf('evidence-waiver', EvidenceWaiver, ({ itemCode, basis, span }) => `${basis} of ${itemCode} at ${span.fromMm} mm`);
export const REJOINS = kindOf('rejoin', Rejoin, ({ procedure }) => procedure);
export const NONCONFORMANCES = kindOf('nonconformance', Nonconformance, ({ number }) => labelOf(number));
export const COUNTER_PERIODS = kindOf('counter-period', CounterPeriodVersion, ({ counter, observedAt }) => `${counter} from ${observedAt}`);
export const READINGS = kindOf('counter-reading', CounterReading, ({ counter, reading }) => `${counter} ${reading}`);
export const HANG_OFFS = kindOf('hang-off', HangOffVersion, ({ mdMm }) => `at ${mdMm} mm`);
export const SHOE_TIES = kindOf('shoe-tie', ShoeTieVersion, ({ shoeMdMm }) => `shoe at ${shoeMdMm} mm`);
export const LINE_SETUPS = kindOf('line-setup', LineSetup, ({ observedAt }) => `from ${observedAt}`);
const SURVEYS = kindOf('survey', Survey, ({ tool }) => tool);
export const STRINGS = kindOf('casing-string', CasingString, ({ name }) => name);
export const WELLS = kindOf('well', Well, ({ name }) => name);
const SPECIFICATIONS = kindOf('strip-specification', StripSpecification, ({ number, revision }) => `${number} revision ${revision}`);
const ORDERS = kindOf('strip-order', StripOrder, ({ number }) => number);
const TRANSCRIPTIONS = kindOf('certificate-transcription', CertificateTranscription, ({ keying }) => `keying ${keying}`);
const CERTIFICATE_LINKS = kindOf('certificate-link', CertificateLink, ({ namedAs }) => namedAs);
const DOCUMENTS = kindOf('document', Document, ({ fileName }) => fileName);
export const RECEIPTS = kindOf('coil-receipt', CoilReceipt, ({ tagNumber, occasion }) => `${tagNumber}, ${occasion}`);
export const INSTRUMENTS = kindOf('instrument', Instrument, ({ number }) => number);
export const CALIBRATIONS = kindOf('calibration', CalibrationVersion, ({ certificateNumber }) => certificateNumber);
export const CHECKS = kindOf('incoming-check', IncomingCheck, ({ characteristic, instrument }) => `${characteristic}, ${instrument}`);
export const DEVIATION_PERMITS = kindOf('deviation-permit', DeviationPermit, ({ departure }) => departure.slice(0, 200));
export const COIL_DECISIONS = kindOf('coil-decision', CoilDecision, ({ decision }) => decision);
export const QUALIFICATIONS = kindOf('qualification', QualificationVersion, ({ number }) => number);
export const QUALIFICATION_PROOFS = kindOf('qualification-proof', QualificationProof, ({ proof, onDay }) => `${proof} of ${onDay}`);
export const WELD_PROCEDURES = kindOf('weld-procedure', WeldProcedureVersion, ({ number, revision }) => `${number} revision ${revision}`);
export const WELDS = kindOf('weld', Weld, weldLabel);
const GAUGE_STUDIES = kindOf('gauge-study', GaugeStudyVersion, ({ characteristic }) => characteristic);
export const SPLICE_STEPS = kindOf('splice-step', SpliceStep, stepLabel);
export const TEST_SAMPLES = kindOf('test-sample', TestSample, ({ number }) => number);
export const DESTRUCTIVE_TESTS = kindOf('destructive-test', DestructiveTest, ({ kind, observedAt }) => `${kind} of ${observedAt}`);
export const SAMPLING_PLANS = kindOf('sampling-plan', SamplingPlanVersion, ({ number, revision }) => `${number} revision ${revision}`);
export const SAMPLING_PLAN_ASSIGNMENTS = kindOf('sampling-plan-assignment', SamplingPlanAssignment, ({ fromDay }) => `from ${fromDay}`);
const SHIFTS = kindOf('shift', Shift, ({ name }) => name);
const SHIFT_EVENTS = kindOf('shift-event', ShiftEvent, ({ category, text }) => `${category}: ${text}`.slice(0, 200));
const HANDOVERS = kindOf('handover', Handover, ({ observedAt }) => `of ${observedAt}`);
const HANDOVER_ACCEPTANCES = kindOf('handover-acceptance', HandoverAcceptance, ({ observedAt }) => `of ${observedAt}`);
export const INDICATION_RULES = kindOf('indication-rule', IndicationRuleVersion, ruleName);
export const DETECTIONS = kindOf('detection', Detection, detectionLabel);
export const CONTROL_PLANS = kindOf('control-plan', ControlPlan, planLabel);
export const CONTROL_CHARTS = kindOf('control-chart', ControlChart, chartLabel);
export const CHART_LIMITS = kindOf('chart-limits', ChartLimitsVersion, ({ number, signerName }) => `limits ${number}, signed by ${signerName}`);
export const CHART_REACTIONS = kindOf('chart-reaction', ChartReaction, reactionLabel);
export const RELEASES = kindOf('release', Release, ({ fromMm, toMm }) => `footage ${fromMm} to ${toMm} mm`);
export const HOLDS = kindOf('hold', Hold, holdLabel);
export const HOLD_LIFTINGS = kindOf('hold-lifting', HoldLifting, ({ observedAt }) => `of ${observedAt}`);
const DEVICES = kindOf('device', Device, ({ name }) => name);

/** The work of a person on the pipe itself, all of it placed. */
export const PERSONS_PLACED: readonly RecordKind<PlacedVersion>[] = [
  SPLICES, INSPECTIONS, CUT_OUTS, SEAM_EVENTS, REPAIRS, EXAMINATIONS, SIGNAL_MARKS, REFERENCE_CHECKS, INDICATIONS, ATTENDANCES, EVIDENCE_WAIVERS,
];

/** The work of a person on welds, whose place is that of the splice or re-join. */
export const PERSONS_WELDS: readonly RecordKind<StringRecordVersion>[] = [WELDS, REJOINS, SPLICE_STEPS];

/** What a person leaves beside that and beside work on welds: counted and named, without footage. */
export const PERSONS_OTHERS: readonly RecordKind<RecordVersion>[] = [
  SEGMENTS, READINGS, SHOE_TIES, LINE_SETUPS, COUNTER_PERIODS, HANG_OFFS, COILS, HEATS,
  CERTIFICATES, SPECIFICATIONS, ORDERS, TRANSCRIPTIONS, CERTIFICATE_LINKS, DOCUMENTS, RECEIPTS, CHECKS, DEVIATION_PERMITS, COIL_DECISIONS, SURVEYS, STRINGS, WELLS, PEOPLE, DEVICES,
  QUALIFICATIONS, QUALIFICATION_PROOFS, INSTRUMENTS, CALIBRATIONS, GAUGE_STUDIES, WELD_PROCEDURES, TEST_SAMPLES, DESTRUCTIVE_TESTS,
  SAMPLING_PLANS, SAMPLING_PLAN_ASSIGNMENTS, CHANNELS, INSPECTION_RUNS, INDICATION_RULES, DETECTIONS, INDICATION_EVALUATIONS,
  SHIFTS, SHIFT_EVENTS, HANDOVERS, HANDOVER_ACCEPTANCES, RELEASES, CONTROL_PLANS, HOLDS, HOLD_LIFTINGS, CONTROL_CHARTS, CHART_LIMITS, CHART_REACTIONS,
];

/** Placed records, whose footage may rest on a counter period. */
export const PLACED: readonly RecordKind<PlacedVersion>[] = [
  SEGMENTS, SPLICES, CUT_OUTS, INSPECTIONS, SEAM_EVENTS, REPAIRS, EXAMINATIONS, SIGNAL_MARKS, REFERENCE_CHECKS, INDICATIONS, HANG_OFFS,
  ATTENDANCES, EVIDENCE_WAIVERS,
];

/** A record of a kind as answers name it. */
export const linkOf = <R extends RecordVersion>(kind: RecordKind<R>, row: R): RecordLink => linkTo(kind.kind, row, kind.label(row));

/** The record a recall starts at. */
export const startAt = <R extends RecordVersion>(kind: RecordKind<R>, row: R): { record: RecordLink; isVoid: boolean } => ({ record: linkOf(kind, row), isVoid: row.state === 'void' });
