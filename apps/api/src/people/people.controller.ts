import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { NewPersonInput, PersonAnswer } from './person.dto.js';
import { PeopleService } from './people.service.js';

const Routes = recordController({
  path: 'people', read: 'person:read', write: 'person:write', input: NewPersonInput, answer: PersonAnswer, filters: [],
});

@Controller('api/people')
export class PeopleController extends Routes {
  constructor(people: PeopleService) {
    super(people);
  }
}
