import { Module } from '@nestjs/common';
import { StripSpecificationsController } from './strip-specifications.controller.js';
import { StripSpecificationsService } from './strip-specifications.service.js';

@Module({
  controllers: [StripSpecificationsController],
  providers: [StripSpecificationsService],
  exports: [StripSpecificationsService],
})
export class StripSpecificationsModule {}
