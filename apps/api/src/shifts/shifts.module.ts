import { Module } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { ShiftsController } from './shifts.controller.js';
import { ShiftsService } from './shifts.service.js';

@Module({
  imports: [CasingStringsModule, PeopleModule],
  controllers: [ShiftsController],
  providers: [ShiftsService],
  exports: [ShiftsService],
})
export class ShiftsModule {}
