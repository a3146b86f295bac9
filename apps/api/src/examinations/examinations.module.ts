import { Module } from '@nestjs/common';
import { FilesModule } from '../files/files.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { PeopleModule } from '../people/people.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { ExaminationsController } from './examinations.controller.js';
import { ExaminationsService } from './examinations.service.js';

@Module({
  imports: [FilesModule, InstrumentsModule, LineModule, PeopleModule, RejoinsModule, RepairsModule, SplicesModule],
  controllers: [ExaminationsController],
  providers: [ExaminationsService],
  exports: [ExaminationsService],
})
export class ExaminationsModule {}
