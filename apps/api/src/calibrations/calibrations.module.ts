import { Module } from '@nestjs/common';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { CalibrationsController } from './calibrations.controller.js';
import { CalibrationsService } from './calibrations.service.js';

@Module({
  imports: [InstrumentsModule],
  controllers: [CalibrationsController],
  providers: [CalibrationsService],
  exports: [CalibrationsService],
})
export class CalibrationsModule {}
