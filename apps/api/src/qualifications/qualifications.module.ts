import { Module } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { QualificationsController } from './qualifications.controller.js';
import { QualificationsService } from './qualifications.service.js';

@Module({
  imports: [PeopleModule],
  controllers: [QualificationsController],
  providers: [QualificationsService],
  exports: [QualificationsService],
})
export class QualificationsModule {}
