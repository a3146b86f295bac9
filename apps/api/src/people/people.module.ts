import { Module } from '@nestjs/common';
import { FirstAdministratorService } from './first-administrator.service.js';
import { PeopleController } from './people.controller.js';
import { PeopleService } from './people.service.js';

@Module({
  controllers: [PeopleController],
  providers: [PeopleService, FirstAdministratorService],
  exports: [PeopleService],
})
export class PeopleModule {}
