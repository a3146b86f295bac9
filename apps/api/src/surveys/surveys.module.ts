import { Module } from '@nestjs/common';
import { WellsModule } from '../wells/wells.module.js';
import { SurveysController } from './surveys.controller.js';
import { SurveysService } from './surveys.service.js';

@Module({ imports: [WellsModule], controllers: [SurveysController], providers: [SurveysService], exports: [SurveysService] })
export class SurveysModule {}
