import { Module } from '@nestjs/common';
import { FilesModule } from '../files/files.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { PeopleModule } from '../people/people.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { SpliceStepsController } from './splice-steps.controller.js';
import { SpliceStepsService } from './splice-steps.service.js';

@Module({
  imports: [FilesModule, InstrumentsModule, PeopleModule, SplicesModule],
  controllers: [SpliceStepsController],
  providers: [SpliceStepsService],
  exports: [SpliceStepsService],
})
export class SpliceStepsModule {}
