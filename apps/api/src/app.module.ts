import { Module, type DynamicModule } from '@nestjs/common';
import type { DataSource } from 'typeorm';
import type { Clock, EntityClass } from '#libs/persistence';
import { AccessModule } from './access/access.module.js';
import { AttendancesModule } from './attendances/attendances.module.js';
import { CalibrationsModule } from './calibrations/calibrations.module.js';
import { CertificateImportsModule } from './certificate-imports/certificate-imports.module.js';
import { CertificateLinksModule } from './certificate-links/certificate-links.module.js';
import { CertificatesModule } from './certificates/certificates.module.js';
import { ChangesSinceModule } from './changes-since/changes-since.module.js';
import { ChannelWatchModule } from './channel-watch/channel-watch.module.js';
import { ChannelsModule } from './channels/channels.module.js';
import { CharacteristicsModule } from './characteristics/characteristics.module.js';
import { ChartReactionsModule } from './chart-reactions/chart-reactions.module.js';
import { ChartingModule } from './charting/charting.module.js';
import { CoilPapersModule } from './coil-papers/coil-papers.module.js';
import { CoilsModule } from './coils/coils.module.js';
import { ControlChartsModule } from './control-charts/control-charts.module.js';
import { ControlPlansModule } from './control-plans/control-plans.module.js';
import { CoilDecisionsModule } from './decisions/coil-decisions.module.js';
import { DestructiveCoverageModule } from './destructive-coverage/destructive-coverage.module.js';
import { DestructiveTestChecksModule } from './destructive-test-checks/destructive-test-checks.module.js';
import { DestructiveTestsModule } from './destructive-tests/destructive-tests.module.js';
import { DetectionDifferencesModule } from './detection-difference/detection-differences.module.js';
import { DetectionsModule } from './detections/detections.module.js';
import { DevicesModule } from './devices/devices.module.js';
import { EvaluationModule } from './evaluation/evaluation.module.js';
import { EvidenceClockModule } from './evidence-clock/evidence-clock.module.js';
import { EvidenceModule } from './evidence/evidence.module.js';
import { EvidenceWaiversModule } from './evidence-waivers/evidence-waivers.module.js';
import { ExaminationsModule } from './examinations/examinations.module.js';
import { FilesModule } from './files/files.module.js';
import { GaugeStudiesModule } from './gauge-studies/gauge-studies.module.js';
import { GradesModule } from './grades/grades.module.js';
import { HandoverAcceptancesModule } from './handover-acceptances/handover-acceptances.module.js';
import { HandoversModule } from './handovers/handovers.module.js';
import { HealthModule } from './health/health.module.js';
import { HeatsModule } from './heats/heats.module.js';
import { HoldLiftingsModule } from './hold-liftings/hold-liftings.module.js';
import { HoldsModule } from './holds/holds.module.js';
import { HoldClockModule } from './hold-clock/hold-clock.module.js';
import { IncomingChecksModule } from './incoming-checks/incoming-checks.module.js';
import { InspectionProofsModule } from './inspection-proof/inspection-proofs.module.js';
import { InspectionCoverageModule } from './inspection-coverage/inspection-coverage.module.js';
import { InspectionRunsModule } from './inspection-runs/inspection-runs.module.js';
import { IndicationEvaluationsModule } from './indication-evaluations/indication-evaluations.module.js';
import { IndicationRulesModule } from './indication-rules/indication-rules.module.js';
import { IndicationStandingsModule } from './indication-standing/indication-standings.module.js';
import { IndicationsModule } from './indications/indications.module.js';
import { InspectionsModule } from './inspections/inspections.module.js';
import { InstrumentStandingsModule } from './instrument-standing/instrument-standings.module.js';
import { InstrumentsModule } from './instruments/instruments.module.js';
import { LineEventsModule } from './line-events/line-events.module.js';
import { LimitsSigningModule } from './limits-signing/limits-signing.module.js';
import { LineModule } from './line/line.module.js';
import { NonconformancesModule } from './nonconformances/nonconformances.module.js';
import { OpenItemsModule } from './open-items/open-items.module.js';
import { StripOrdersModule } from './orders/strip-orders.module.js';
import { PeopleModule } from './people/people.module.js';
import { DeviationPermitsModule } from './permits/deviation-permits.module.js';
import { PressureIntegrityModule } from './pressure-integrity/pressure-integrity.module.js';
import { declaredEntities, ProvidedModule } from './provided.module.js';
import { QualificationProofsModule } from './qualification-proofs/qualification-proofs.module.js';
import { QualificationsModule } from './qualifications/qualifications.module.js';
import { QualifiedModule } from './qualified/qualified.module.js';
import { RecallModule } from './recall/recall.module.js';
import { CoilReceiptsModule } from './receipts/coil-receipts.module.js';
import { ReconciliationModule } from './reconciliation/reconciliation.module.js';
import { RecordsModule } from './records/records.module.js';
import { ReferenceChecksModule } from './reference-checks/reference-checks.module.js';
import { ReinspectionsModule } from './reinspections/reinspections.module.js';
import { RejoinRecordsModule } from './rejoin-record/rejoin-records.module.js';
import { RejoinsModule } from './rejoins/rejoins.module.js';
import { ReleaseSigningModule } from './release-signing/release-signing.module.js';
import { RepairsModule } from './repairs/repairs.module.js';
import { ReportsModule } from './reports/reports.module.js';
import { RunLengthsModule } from './run-lengths/run-lengths.module.js';
import { SamplingPlanAssignmentsModule } from './sampling-plan-assignments/sampling-plan-assignments.module.js';
import { SamplingPlansModule } from './sampling-plans/sampling-plans.module.js';
import { SeamEventsModule } from './seam-events/seam-events.module.js';
import { SeamStopsModule } from './seam-stops/seam-stops.module.js';
import { SearchModule } from './search/search.module.js';
import { CoilSegmentsModule } from './segments/coil-segments.module.js';
import { ShiftEventsModule } from './shift-events/shift-events.module.js';
import { ShiftLogsModule } from './shift-log/shift-logs.module.js';
import { ShiftsModule } from './shifts/shifts.module.js';
import { StripSpecificationsModule } from './specifications/strip-specifications.module.js';
import { SignalMarksModule } from './signal-marks/signal-marks.module.js';
import { SpliceArrivalsModule } from './splice-arrivals/splice-arrivals.module.js';
import { SpliceRecordsModule } from './splice-record/splice-records.module.js';
import { SpliceStepsModule } from './splice-steps/splice-steps.module.js';
import { SignalViewsModule } from './signal-views/signal-views.module.js';
import { SignalsModule } from './signals/signals.module.js';
import { SplicesModule } from './splices/splices.module.js';
import { CasingStringsModule } from './strings/casing-strings.module.js';
import { SuppliersModule } from './suppliers/suppliers.module.js';
import { SurveysModule } from './surveys/surveys.module.js';
import { TestSamplesModule } from './test-samples/test-samples.module.js';
import { TraceModule } from './trace/trace.module.js';
import { CertificateTranscriptionsModule } from './transcriptions/certificate-transcriptions.module.js';
import { WeldChecksModule } from './weld-checks/weld-checks.module.js';
import { WeldProceduresModule } from './weld-procedures/weld-procedures.module.js';
import { WeldsModule } from './welds/welds.module.js';
import { WellsModule } from './wells/wells.module.js';
import { WhereaboutsModule } from './whereabouts/whereabouts.module.js';
import { WorkChecksModule } from './work-checks/work-checks.module.js';
import type { Configuration } from './configuration.js';

const FEATURES = [
  PeopleModule,
  QualificationsModule,
  QualificationProofsModule,
  InstrumentsModule,
  CalibrationsModule,
  GaugeStudiesModule,
  WeldProceduresModule,
  QualifiedModule,
  InstrumentStandingsModule,
  DevicesModule,
  WellsModule,
  CasingStringsModule,
  HeatsModule,
  CertificatesModule,
  CoilsModule,
  StripSpecificationsModule,
  StripOrdersModule,
  CertificateTranscriptionsModule,
  CertificateImportsModule,
  CertificateLinksModule,
  FilesModule,
  CoilReceiptsModule,
  IncomingChecksModule,
  DeviationPermitsModule,
  EvaluationModule,
  CoilDecisionsModule,
  SearchModule,
  GradesModule,
  CoilPapersModule,
  SurveysModule,
  LineModule,
  CoilSegmentsModule,
  SplicesModule,
  RejoinsModule,
  WeldsModule,
  WeldChecksModule,
  WorkChecksModule,
  TestSamplesModule,
  DestructiveTestsModule,
  DestructiveTestChecksModule,
  SamplingPlansModule,
  SamplingPlanAssignmentsModule,
  DestructiveCoverageModule,
  SeamEventsModule,
  SeamStopsModule,
  ChannelWatchModule,
  InspectionCoverageModule,
  LineEventsModule,
  SpliceStepsModule,
  SpliceRecordsModule,
  SpliceArrivalsModule,
  InspectionsModule,
  ChannelsModule,
  InspectionRunsModule,
  SignalMarksModule,
  InspectionProofsModule,
  ReferenceChecksModule,
  NonconformancesModule,
  RepairsModule,
  ExaminationsModule,
  IndicationRulesModule,
  DetectionsModule,
  IndicationsModule,
  IndicationEvaluationsModule,
  DetectionDifferencesModule,
  IndicationStandingsModule,
  ControlPlansModule,
  AttendancesModule,
  EvidenceWaiversModule,
  EvidenceModule,
  ReleaseSigningModule,
  RunLengthsModule,
  ChartingModule,
  LimitsSigningModule,
  HoldsModule,
  HoldLiftingsModule,
  ControlChartsModule,
  ChartReactionsModule,
  ReinspectionsModule,
  RejoinRecordsModule,
  ShiftsModule,
  ShiftEventsModule,
  HandoversModule,
  HandoverAcceptancesModule,
  ShiftLogsModule,
  OpenItemsModule,
  HoldClockModule,
  EvidenceClockModule,
  ChangesSinceModule,
  TraceModule,
  PressureIntegrityModule,
  WhereaboutsModule,
  RecallModule,
  ReconciliationModule,
  SuppliersModule,
  ReportsModule,
  SignalsModule,
  SignalViewsModule,
  CharacteristicsModule,
];

/** The whole API. */
@Module({})
export class AppModule {
  static with(configuration: Configuration, dataSource: DataSource, clock: Clock): DynamicModule {
    const provided = ProvidedModule.with(configuration, dataSource, clock);
    return { module: AppModule, imports: [provided, AccessModule, RecordsModule, HealthModule, ...FEATURES] };
  }
}

/** The entities of all features; to make the data source with. */
export const ENTITIES: readonly EntityClass[] = declaredEntities();
