import { Module, type DynamicModule } from '@nestjs/common';
import type { DataSource } from 'typeorm';
import type { Clock, EntityClass } from '#libs/persistence';
import { AccessModule } from './access/access.module.js';
import { CertificatesModule } from './certificates/certificates.module.js';
import { CoilsModule } from './coils/coils.module.js';
import type { Configuration } from './configuration.js';
import { DevicesModule } from './devices/devices.module.js';
import { HealthModule } from './health/health.module.js';
import { HeatsModule } from './heats/heats.module.js';
import { InspectionsModule } from './inspections/inspections.module.js';
import { LineModule } from './line/line.module.js';
import { NonconformancesModule } from './nonconformances/nonconformances.module.js';
import { PeopleModule } from './people/people.module.js';
import { declaredEntities, ProvidedModule } from './provided.module.js';
import { RecallModule } from './recall/recall.module.js';
import { ReconciliationModule } from './reconciliation/reconciliation.module.js';
import { RecordsModule } from './records/records.module.js';
import { RejoinsModule } from './rejoins/rejoins.module.js';
import { ReportsModule } from './reports/reports.module.js';
import { CoilSegmentsModule } from './segments/coil-segments.module.js';
import { SplicesModule } from './splices/splices.module.js';
import { CasingStringsModule } from './strings/casing-strings.module.js';
import { SurveysModule } from './surveys/surveys.module.js';
import { TraceModule } from './trace/trace.module.js';
import { WellsModule } from './wells/wells.module.js';
import { WhereaboutsModule } from './whereabouts/whereabouts.module.js';

const FEATURES = [
  PeopleModule,
  DevicesModule,
  WellsModule,
  CasingStringsModule,
  HeatsModule,
  CertificatesModule,
  CoilsModule,
  SurveysModule,
  LineModule,
  CoilSegmentsModule,
  SplicesModule,
  RejoinsModule,
  InspectionsModule,
  NonconformancesModule,
  TraceModule,
  WhereaboutsModule,
  RecallModule,
  ReconciliationModule,
  ReportsModule,
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
