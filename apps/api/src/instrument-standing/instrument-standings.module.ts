import { Module } from '@nestjs/common';
import { CalibrationsModule } from '../calibrations/calibrations.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { InstrumentStandingsController } from './instrument-standings.controller.js';
import { InstrumentStandings } from './instrument-standings.service.js';
import { MeasuredWithInstrument } from './measured-with.service.js';

@Module({
  imports: [CalibrationsModule, IncomingChecksModule, InspectionsModule, InstrumentsModule],
  controllers: [InstrumentStandingsController],
  providers: [InstrumentStandings, MeasuredWithInstrument],
  exports: [InstrumentStandings],
})
export class InstrumentStandingsModule {}
