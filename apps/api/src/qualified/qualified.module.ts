import { Module } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { QualificationProofsModule } from '../qualification-proofs/qualification-proofs.module.js';
import { QualificationsModule } from '../qualifications/qualifications.module.js';
import { QualifiedController } from './qualified.controller.js';
import { QualifiedPeople } from './qualified.service.js';

@Module({
  imports: [PeopleModule, QualificationsModule, QualificationProofsModule],
  controllers: [QualifiedController],
  providers: [QualifiedPeople],
  exports: [QualifiedPeople],
})
export class QualifiedModule {}
