import { Module } from '@nestjs/common';
import { CalibrationsModule } from '../calibrations/calibrations.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { MeasuredWorkModule } from '../measured-work/measured-work.module.js';
import { InstrumentStandingsController } from './instrument-standings.controller.js';
import { InstrumentStandings } from './instrument-standings.service.js';

@Module({
  imports: [CalibrationsModule, InstrumentsModule, MeasuredWorkModule],
  controllers: [InstrumentStandingsController],
  providers: [InstrumentStandings],
  exports: [InstrumentStandings],
})
export class InstrumentStandingsModule {}
