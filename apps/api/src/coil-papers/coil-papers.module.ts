import { Module } from '@nestjs/common';
import { EvaluationModule } from '../evaluation/evaluation.module.js';
import { PeopleModule } from '../people/people.module.js';
import { ReportsModule } from '../reports/reports.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { CoilPapersController } from './coil-papers.controller.js';
import { CoilPapersService } from './coil-papers.service.js';

/** A coil as paper: its sheet and its tag. */
@Module({
  imports: [EvaluationModule, PeopleModule, ReportsModule, CasingStringsModule],
  controllers: [CoilPapersController],
  providers: [CoilPapersService],
})
export class CoilPapersModule {}
