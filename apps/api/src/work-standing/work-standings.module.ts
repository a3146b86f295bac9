import { Module } from '@nestjs/common';
import { InstrumentStandingsModule } from '../instrument-standing/instrument-standings.module.js';
import { QualifiedModule } from '../qualified/qualified.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { WorkStandings } from './work-standings.service.js';

/** What the checks of welds and of other work share. */
@Module({
  imports: [CasingStringsModule, InstrumentStandingsModule, QualifiedModule, WellsModule],
  providers: [WorkStandings],
  exports: [WorkStandings],
})
export class WorkStandingsModule {}
