import { Module } from '@nestjs/common';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { GaugeStudiesController } from './gauge-studies.controller.js';
import { GaugeStudiesService } from './gauge-studies.service.js';

@Module({ imports: [InstrumentsModule], controllers: [GaugeStudiesController], providers: [GaugeStudiesService], exports: [GaugeStudiesService] })
export class GaugeStudiesModule {}
