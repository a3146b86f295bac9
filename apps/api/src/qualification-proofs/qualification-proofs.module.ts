import { Module } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { QualificationsModule } from '../qualifications/qualifications.module.js';
import { QualificationProofsController } from './qualification-proofs.controller.js';
import { QualificationProofsService } from './qualification-proofs.service.js';

@Module({
  imports: [PeopleModule, QualificationsModule],
  controllers: [QualificationProofsController],
  providers: [QualificationProofsService],
  exports: [QualificationProofsService],
})
export class QualificationProofsModule {}
