import { Module } from '@nestjs/common';
import { StripSpecificationsModule } from '../specifications/strip-specifications.module.js';
import { StripOrdersController } from './strip-orders.controller.js';
import { StripOrdersService } from './strip-orders.service.js';

@Module({
  imports: [StripSpecificationsModule],
  controllers: [StripOrdersController],
  providers: [StripOrdersService],
  exports: [StripOrdersService],
})
export class StripOrdersModule {}
